// Starts Chromium as the page tests want it: software WebGL, no traffic of its own, every complaint noted.
import {existsSync, mkdirSync} from 'node:fs';
import {delimiter, join, resolve} from 'node:path';
import {fileURLToPath} from 'node:url';
import {chromium} from 'playwright-core';
import {serve} from '../../web/serve.mjs';

export const root = resolve(fileURLToPath(new URL('../..', import.meta.url)));
export const pageFolder = process.env.SALTRAFTER_PAGE ?? join(root, 'build/page');
export const screens = process.env.SALTRAFTER_SCREENS ?? join(root, 'build/screens');

export const wide = {width: 1280, height: 800};
export const narrow = {width: 390, height: 780};

const switches = [
  '--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--ignore-gpu-blocklist',
  '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic',
];

function findChromium() {
  if (process.env.SALTRAFTER_CHROMIUM) return process.env.SALTRAFTER_CHROMIUM;
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    for (const name of ['chromium', 'chromium-browser', 'google-chrome']) {
      if (existsSync(join(folder, name))) return join(folder, name);
    }
  }
  throw new Error('Chromium was not found. Debian has it in the package chromium.');
}

export const launchOptions = () => ({executablePath: findChromium(), headless: true, args: switches});

// openBrowser(): a browser for one test file.
export const openBrowser = () => chromium.launch(launchOptions());

// watch(PAGE, ADDRESS): what must not happen, as it happens: foreign or failed requests, violations, errors.
export async function watch(page, address) {
  const complaints = [];
  const ours = new URL(address).origin;
  page.on('request', request => {
    const url = request.url();
    if (/^(data|blob):/.test(url) || new URL(url).origin === ours) return;
    complaints.push(`foreign request: ${url}`);
  });
  page.on('response', response => {
    if (response.status() >= 400) complaints.push(`${response.status()}: ${response.url()}`);
  });
  page.on('pageerror', error => complaints.push(`error: ${error.message}`));
  page.on('console', message => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
  });
  await page.exposeFunction('noteViolation', text => complaints.push(`policy: ${text}`));
  await page.addInitScript(() => {
    addEventListener('securitypolicyviolation', event =>
      globalThis.noteViolation(`${event.violatedDirective} ${event.blockedURI}`));
  });
  return complaints;
}

// started(PAGE): waits for the first frame; gives its time in ms since the navigation began.
export async function started(page) {
  const seen = () => performance.getEntriesByName('first-frame').length > 0;
  await page.waitForFunction(seen, null, {timeout: 30000});
  return page.evaluate(() => performance.getEntriesByName('first-frame')[0].startTime);
}

// picture(PAGE, NAME): a screenshot that stays in build/screens/.
export async function picture(page, name) {
  mkdirSync(screens, {recursive: true});
  return page.screenshot({path: join(screens, `${name}.png`)});
}

// colours(PAGE): how many different colours the canvas shows. A blank one shows one.
export async function colours(page) {
  const png = await page.locator('#canvas').screenshot();
  return page.evaluate(async base64 => {
    const image = new Image();
    image.src = `data:image/png;base64,${base64}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.width;
    canvas.height = image.height;
    const context = canvas.getContext('2d');
    context.drawImage(image, 0, 0);
    const pixels = new Uint32Array(context.getImageData(0, 0, image.width, image.height).data.buffer);
    return new Set(pixels).size;
  }, png.toString('base64'));
}

export {serve};
