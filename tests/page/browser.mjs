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

// findCommand(NAMES, PACKAGE, VARIABLE): the first such program, or the one that the environment's VARIABLE
// names.
export function findCommand(names, debianPackage, variable) {
  if (process.env[variable]) return process.env[variable];
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    for (const name of names) {
      if (existsSync(join(folder, name))) return join(folder, name);
    }
  }
  throw new Error(`${names[0]} was not found. Debian has it in the package ${debianPackage}.`);
}

const findChromium = () =>
  findCommand(['chromium', 'chromium-browser', 'google-chrome'], 'chromium', 'SALTRAFTER_CHROMIUM');

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
  // The same under Playwright's name and under Puppeteer's.
  await (page.addInitScript ?? page.evaluateOnNewDocument).call(page, () => {
    addEventListener('securitypolicyviolation', event =>
      globalThis.noteViolation(`${event.violatedDirective} ${event.blockedURI}`));
  });
  return complaints;
}

// started(PAGE): waits for the first frame; gives its time in ms since the navigation began.
export const started = page => page.evaluate(async () => {
  const end = performance.now() + 30000;
  for (;;) {
    const [mark] = performance.getEntriesByName('first-frame');
    if (mark) return mark.startTime;
    if (performance.now() > end) throw new Error('there is no first frame');
    await new Promise(done => setTimeout(done, 20));
  }
});

// picture(PAGE, NAME): a screenshot that stays in build/screens/.
export async function picture(page, name) {
  mkdirSync(screens, {recursive: true});
  return page.screenshot({path: join(screens, `${name}.png`)});
}

// colours(PAGE): how many different colours the canvas shows. A blank one shows one.
export const colours = async page => coloursIn(page, await page.locator('#canvas').screenshot());

// coloursIn(PAGE, PNG): the same of a picture, counted with the page's help.
export const coloursIn = (page, png) =>
  page.evaluate(async base64 => {
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
  }, Buffer.from(png).toString('base64'));

export {serve};
