// Registers the service worker that keeps the whole page for visits without a network.

export async function installWorker() {
  if (!('serviceWorker' in navigator)) return;
  try {
    await navigator.serviceWorker.register('sw.js', {updateViaCache: 'none'});
  } catch (error) {
    // Refused in private windows and from file://; the page works, only not offline.
    console.info('No offline copy:', error.message);
  }
}
