// The page starts: from any folder of a host, quietly, and says in words when it cannot.
import assert from 'node:assert/strict';
import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {colours, narrow, openBrowser, pageFolder, picture, serve, started, watch, wide} from './browser.mjs';

let browser;
let server;

before(async () => {
  browser = await openBrowser();
  server = await serve(pageFolder, {under: '/any/sub/path/'});
});

after(async () => {
  await browser?.close();
  await server?.close();
});

async function open({viewport = wide, init, address = server.address, path = ''} = {}) {
  const context = await browser.newContext({viewport});
  const page = await context.newPage();
  const complaints = await watch(page, address);
  if (init) await page.addInitScript(init);
  await page.goto(address + path);
  return {context, page, complaints};
}

for (const [name, viewport] of [['wide', wide], ['narrow', narrow]]) {
  test(`the page draws its first frame and nothing complains, ${name}`, async () => {
    const {context, page, complaints} = await open({viewport});
    const ms = await started(page);
    assert.ok(ms > 0 && ms < 30000, `first frame after ${ms} ms`);
    await page.waitForTimeout(300);
    await picture(page, `start-${name}`);
    assert.ok(await colours(page) > 8, 'the canvas is blank');
    assert.equal(await page.locator('#before').isVisible(), false);
    assert.deepEqual(complaints, []);
    await context.close();
  });
}

test('two seconds without an input draw no frame, and an input draws again', async () => {
  const {context, page} = await open();
  await started(page);
  // Until the stores have answered and the book is said to be saved.
  await page.getByText('Saved on this device').waitFor({state: 'attached'});
  await page.waitForTimeout(1500);
  const frames = () => page.evaluate(() => saltrafter._saltrafter_frames());
  const idle = await frames();
  await page.waitForTimeout(2000);
  assert.equal(await frames(), idle);
  // A mouse that only passes over changes nothing, so it costs nothing.
  await page.mouse.move(200, 200);
  await page.mouse.move(300, 300);
  await page.waitForTimeout(300);
  assert.equal(await frames(), idle);
  await page.mouse.wheel(0, 40);
  await page.waitForTimeout(500);
  assert.ok(await frames() > idle, 'the page did not wake');
  await context.close();
});

test('the second visit works with the host gone', async () => {
  const own = await serve(pageFolder);
  const {context, page} = await open({address: own.address});
  await started(page);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
  await own.close();
  await context.setOffline(true);
  await page.goto(`${own.address}?x=1#r=abc`);
  await started(page);
  assert.ok(await colours(page) > 8, 'the canvas is blank');
  await context.close();
});

test('without WebGL 2 the page says so in words', async () => {
  const {context, page} = await open({
    init: () => {
      const real = HTMLCanvasElement.prototype.getContext;
      HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
        return kind === 'webgl2' ? null : real.call(this, kind, ...rest);
      };
    },
  });
  await page.getByText('no WebGL 2').waitFor();
  await picture(page, 'start-no-webgl');
  await context.close();
});

test('inside a frame of another page there is only a link to its own tab', async () => {
  // From any other file of the host: the page's own policy lets no frame in.
  const {context, page} = await open({path: 'manifest.webmanifest'});
  await page.evaluate(address => {
    const frame = document.createElement('iframe');
    frame.src = address;
    document.body.append(frame);
  }, server.address);
  await page.frameLocator('iframe').getByRole('link', {name: 'own tab'}).waitFor();
  assert.equal(await page.frameLocator('iframe').locator('#canvas').isVisible(), false);
  await context.close();
});

test('nothing is evaluated, and the policy stands before all that it rules', async () => {
  const {context, page} = await open();
  await started(page);
  // In a timer of the page's own: what a test driver evaluates is let through.
  const refused = await page.evaluate(() => new Promise(resolve => setTimeout(() => {
    const script = document.createElement('script');
    script.textContent = 'globalThis.inlineRan = true';
    document.head.append(script);
    try {
      new Function('return 1')();
      resolve('evaluated');
    } catch (error) {
      resolve(globalThis.inlineRan ? 'inline script ran' : error.name);
    }
  })));
  assert.equal(refused, 'EvalError');
  const html = readFileSync(join(pageFolder, 'index.html'), 'utf8');
  const policy = html.indexOf('Content-Security-Policy');
  for (const tag of ['<link', '<script', '<style']) {
    const at = html.indexOf(tag);
    assert.ok(at < 0 || at > policy, `${tag} stands before the policy`);
  }
  await context.close();
});

test('no built text names another host', () => {
  // Namespaces of SVG are names, not addresses; the glue's comments and SDL's help texts are not ours.
  for (const name of readdirSync(pageFolder)) {
    if (!/\.(html|css|js|webmanifest)$/.test(name) || /^saltrafter\./.test(name)) continue;
    const text = readFileSync(join(pageFolder, name), 'utf8');
    assert.doesNotMatch(text, /https?:\/\//, name);
  }
});

test('the page can be installed: manifest and icons are whole', async () => {
  const {context, page} = await open();
  await started(page);
  const devtools = await context.newCDPSession(page);
  const {errors, data} = await devtools.send('Page.getAppManifest');
  assert.deepEqual(errors, []);
  const manifest = JSON.parse(data);
  for (const {src, sizes} of manifest.icons) {
    const size = await page.evaluate(async url => {
      const image = new Image();
      image.src = url;
      await image.decode();
      return `${image.naturalWidth}x${image.naturalHeight}`;
    }, src);
    if (sizes !== 'any') assert.equal(size, sizes, src);
  }
  await context.close();
});
