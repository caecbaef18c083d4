// Keeps the screen lit while wet hands are weighing, where the browser can; it lets go by itself when the page is hidden.
let wanted = false;
let held = null;

async function hold() {
  if (!wanted || held || document.visibilityState !== 'visible' || !navigator.wakeLock) return;
  try {
    held = await navigator.wakeLock.request('screen');
    held.addEventListener('release', () => { held = null; });
    if (!wanted) await held.release();
  } catch (error) {
    // A battery that runs low is a reason not to: the screen may then go dark, and nothing is lost.
    console.info('The screen may go dark:', error.message);
  }
}

// awake(): hands the program what it asks with.
export function awake() {
  document.addEventListener('visibilitychange', hold);
  return {
    set(on) {
      wanted = on;
      if (on) hold();
      else if (held) held.release();
    },
    get held() { return held !== null; },
  };
}
