// At rest nothing runs; whatever changes what the screen says is followed by it, without any further input.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser, picture} from './browser.mjs';
import {fill, find, nodes, press, settled, sleep, told, until, wait} from './journey.mjs';
import {sizes, Visitor} from './visitor.mjs';

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

const saved = 'Saved on this device';
const meat = 'Meat on the tray';

// counts(PAGE): what the program has done since the start, and what the browser has called for its scripts.
const counts = page => page.evaluate(() => ({
  frames: saltrafter._saltrafter_frames(),
  works: saltrafter._saltrafter_works(),
  called: globalThis.called,
}));

// Runs before the page's scripts: counts the animation frames, timers and messages that wake them.
function countCalls() {
  globalThis.called = 0;
  const counted = run => (...words) => {
    ++globalThis.called;
    return run(...words);
  };
  for (const name of ['requestAnimationFrame', 'setTimeout', 'setInterval', 'requestIdleCallback']) {
    const real = globalThis[name];
    globalThis[name] = (run, ...rest) => real.call(globalThis, counted(run), ...rest);
  }
  const port = Object.getOwnPropertyDescriptor(MessagePort.prototype, 'onmessage');
  Object.defineProperty(MessagePort.prototype, 'onmessage', {
    ...port,
    set(run) { port.set.call(this, counted(run)); },
  });
}

// atRest(PAGE): all is saved and drawn, and the worker is there.
async function atRest(page) {
  await wait(page, 'status', saved);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
  await settled(page);
  let before = await counts(page);
  assert.ok(await until(async () => {
    await sleep(700);
    const now = await counts(page);
    const still = JSON.stringify(now) === JSON.stringify(before);
    before = now;
    return still;
  }), `it does not come to rest: ${JSON.stringify(before)}`);
  return before;
}

async function openRecipe(options = {}) {
  const visitor = await Visitor.start(browser, options);
  await wait(visitor.page, 'status', saved);
  await press(visitor.page, 'row', 'Caraway salami…');
  await wait(visitor.page, 'spinbutton', meat);
  await settled(visitor.page);
  return visitor;
}

// Types half a figure and leaves the caret in it.
async function halfTyped(page, text = '215') {
  await page.getByRole('spinbutton', {name: meat}).focus();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
  assert.ok(await until(async () => (await find(page, 'spinbutton', meat)).value === text), await told(page));
  await settled(page);
}

async function stillHalfTyped(page, text = '215') {
  const node = await wait(page, 'spinbutton', meat);
  assert.equal(node.value, text, await told(page));
  assert.ok(node.state.includes('F'), await told(page));
  await page.keyboard.type('0');
  assert.ok(await until(async () => (await find(page, 'spinbutton', meat)).value === `${text}0`),
    await told(page));
}

// ground(PAGE): the colour of the canvas in its first corner, as "r,g,b".
async function ground(page) {
  const png = await page.screenshot({clip: {x: 0, y: 0, width: 2, height: 2}});
  return page.evaluate(async base64 => {
    const image = new Image();
    image.src = `data:image/png;base64,${base64}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    const context = canvas.getContext('2d');
    context.drawImage(image, 0, 0);
    return [...context.getImageData(0, 0, 1, 1).data.slice(0, 3)].join(',');
  }, png.toString('base64'));
}

test('thirty idle seconds draw no frame and wake nothing', async () => {
  const visitor = await openRecipe({init: countCalls});
  const {page} = visitor;
  const before = await atRest(page);
  assert.ok(before.frames > 0 && before.works > 0 && before.called > 0, JSON.stringify(before));
  await sleep(30000);
  assert.deepEqual(await counts(page), before);
  await page.mouse.wheel(0, 40);
  assert.ok(await until(async () => (await counts(page)).frames > before.frames), 'an input draws nothing');
  visitor.assertQuiet();
  await visitor.end();
});

test('an answer of the store is followed', async () => {
  const visitor = await openRecipe({init: () => {
    // Transactions that end only when the test lets them.
    globalThis.held = [];
    const real = IDBDatabase.prototype.transaction;
    IDBDatabase.prototype.transaction = function (...words) {
      const transaction = real.apply(this, words);
      if (globalThis.holding && words[1] === 'readwrite') {
        Object.defineProperty(transaction, 'oncomplete', {set(run) {
          transaction.addEventListener('complete', () => globalThis.held.push(run));
        }});
      }
      return transaction;
    };
  }});
  const {page} = visitor;
  await page.evaluate(() => { globalThis.holding = true; });
  await fill(page, 'spinbutton', meat, '3 100');
  await wait(page, 'status', 'Saving…');
  assert.ok(await until(() => page.evaluate(() => globalThis.held.length > 0)), 'nothing was put');
  await settled(page);
  await sleep(300);
  assert.equal(await find(page, 'status', saved), null);
  await page.evaluate(() => {
    globalThis.holding = false;
    for (const run of globalThis.held) run();
  });
  await wait(page, 'status', saved);
  await visitor.end();
});

test('a store that fails is asked again, and the screen follows', async () => {
  const visitor = await openRecipe({init: () => {
    const real = Storage.prototype.setItem;
    Storage.prototype.setItem = function (...words) {
      if (globalThis.full) throw new DOMException('full', 'QuotaExceededError');
      return real.apply(this, words);
    };
  }});
  const {page} = visitor;
  await page.evaluate(() => { globalThis.full = true; });
  await fill(page, 'spinbutton', meat, '3 200');
  await wait(page, 'alert', '…');
  await settled(page);
  await page.evaluate(() => { globalThis.full = false; });
  await wait(page, 'status', saved);
  assert.equal(await find(page, 'alert', '…'), null);
  await visitor.end();
});

test('a tab that goes to sleep keeps what is half typed, and draws when it is back', async () => {
  const visitor = await openRecipe();
  const {page} = visitor;
  await halfTyped(page);
  const show = state => page.evaluate(wanted => {
    Object.defineProperty(document, 'visibilityState', {configurable: true, get: () => wanted});
    Object.defineProperty(document, 'hidden', {configurable: true, get: () => wanted === 'hidden'});
    document.dispatchEvent(new Event('visibilitychange'));
  }, state);
  await show('hidden');
  const asleep = (await counts(page)).frames;
  await sleep(500);
  assert.equal((await counts(page)).frames, asleep);
  await show('visible');
  assert.ok(await until(async () => (await counts(page)).frames > asleep), 'it does not wake');
  await stillHalfTyped(page);
  visitor.assertQuiet();
  await visitor.end();
});

test('a window of another size is followed, with what is half typed', async () => {
  const visitor = await openRecipe();
  const {page} = visitor;
  await halfTyped(page);
  await page.setViewportSize({width: 390, height: 844});
  assert.ok(await until(async () => (await nodes(page)).every(({x, width}) => x + width <= 390.5)),
    await told(page));
  await stillHalfTyped(page);
  const box = await page.evaluate(() =>
    [document.getElementById('canvas').width, innerWidth * devicePixelRatio]);
  assert.equal(box[0], box[1]);
  await visitor.end();
});

test('zoom is followed, with what is half typed', async () => {
  const visitor = await openRecipe();
  const {page} = visitor;
  await halfTyped(page);
  const devtools = await visitor.context.newCDPSession(page);
  const {width, height} = sizes.wide.viewport;
  // As the browser's zoom does: fewer CSS pixels, each of more device pixels.
  await devtools.send('Emulation.setDeviceMetricsOverride',
    {width: width / 2, height: height / 2, deviceScaleFactor: 2, mobile: false});
  assert.ok(await until(() =>
    page.evaluate(() => document.getElementById('canvas').width === innerWidth * 2)));
  assert.ok(await until(async () =>
    (await nodes(page)).every(node => node.x + node.width <= width / 2 + 0.5)), await told(page));
  await stillHalfTyped(page);
  await visitor.end();
});

test('another colour scheme is followed', async () => {
  const visitor = await openRecipe();
  const {page} = visitor;
  const paper = await ground(page);
  await page.emulateMedia({colorScheme: 'dark'});
  assert.ok(await until(async () => await ground(page) === '24,20,17'), await ground(page));
  await page.emulateMedia({colorScheme: 'light'});
  assert.ok(await until(async () => await ground(page) === paper), await ground(page));
  assert.equal(paper, '245,239,227');
  await visitor.end();
});

test('midnight is followed by one timer, which is set to it', async () => {
  const visitor = await openRecipe({init: () => {
    // A clock that can be put on, and the timer that waits for an hour or more kept aside.
    const Real = Date;
    globalThis.putOn = 0;
    globalThis.Date = class extends Real {
      constructor(...words) { super(...words.length ? words : [Real.now() + globalThis.putOn]); }
      static now() { return Real.now() + globalThis.putOn; }
    };
    const {setTimeout: set, clearTimeout: clear} = globalThis;
    globalThis.setTimeout = (run, ms, ...rest) => {
      if (!(ms > 20000)) return set(run, ms, ...rest);
      globalThis.far = {run, ms, since: Real.now()};
      return -1;
    };
    globalThis.clearTimeout = id => id === -1 ? globalThis.far = null : clear(id);
    const noon = new Real();
    noon.setHours(12, 0, 0, 0);
    globalThis.putOn = noon - Real.now();
  }});
  const {page} = visitor;
  await press(page, 'button', 'Hang it');
  await wait(page, 'heading', 'Hang Caraway salami');
  await press(page, 'button', 'Hang it in the chamber');
  await wait(page, 'text', 'Batch in work, day 0…');
  await wait(page, 'text', '…80 % sure…', '', 150000);
  await wait(page, 'status', saved);
  await settled(page);
  const wanted = await page.evaluate(() => {
    const midnight = new Date();
    midnight.setHours(24, 0, 0, 0);
    return midnight - Date.now();
  });
  const far = await until(() => page.evaluate(() => globalThis.far && {ms: globalThis.far.ms}));
  assert.ok(Math.abs(far.ms - wanted) < 20000, `${far.ms} ms, not ${wanted}`);
  const idle = (await counts(page)).frames;
  await page.evaluate(() => {
    const {run, ms, since} = globalThis.far;
    globalThis.far = null;
    globalThis.putOn += since + ms - Date.now() + globalThis.putOn;
    run();
  });
  await wait(page, 'text', 'Batch in work, day 1…');
  assert.ok((await counts(page)).frames > idle);
  assert.ok(await until(() => page.evaluate(() => globalThis.far?.ms > 80_000_000)),
    'no timer for the next midnight');
  await visitor.end();
});

test('long work is followed slice by slice to its end', async () => {
  const visitor = await openRecipe({init: countCalls});
  const {page} = visitor;
  await press(page, 'button', 'Hang it');
  await wait(page, 'heading', 'Hang Caraway salami');
  await press(page, 'button', 'Hang it in the chamber');
  await wait(page, 'text', '…80 % sure…', '', 150000);
  assert.equal(await find(page, 'progressbar', '…'), null);
  await atRest(page);
  await visitor.end();
});

test('what is pasted, copied and cut is followed, and a clipboard that refuses takes nothing', async () => {
  const visitor = await openRecipe();
  const {page} = visitor;
  await halfTyped(page);
  const value = async text => assert.ok(
    await until(async () => (await find(page, 'spinbutton', meat)).value === text), await told(page));
  const happens = (kind, refuses, text = '') => page.evaluate(([name, refused, data]) => {
    const clipboardData = new DataTransfer();
    if (data) clipboardData.setData('text/plain', data);
    if (refused) clipboardData.setData = () => { throw new DOMException('no', 'NotAllowedError'); };
    const event = new ClipboardEvent(name, {bubbles: true, cancelable: true, clipboardData});
    document.activeElement.dispatchEvent(event);
    return clipboardData.getData('text/plain');
  }, [kind, refuses, text]);
  await page.keyboard.press('Control+a');
  assert.equal(await happens('copy', false), '215');
  await happens('paste', false, '1840');
  await value('1840');
  await page.keyboard.press('Control+a');
  await happens('paste', false);  // an empty clipboard, or one of pictures
  await value('1840');
  await page.keyboard.press('Control+a');
  await happens('copy', true);
  await value('1840');
  await page.keyboard.press('Control+a');
  await happens('cut', true);
  await value('1840');
  await page.keyboard.press('Control+a');
  assert.equal(await happens('cut', false), '1840');
  await value('');
  assert.equal(await find(page, 'alert', '…'), null);
  visitor.assertQuiet();
  await visitor.end();
});

test('a file that is given is followed', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await wait(page, 'status', saved);
  await settled(page);
  await visitor.give('gift.json', 'no JSON');
  await wait(page, 'alert', '…');
  await visitor.end();
});

test('a lost graphics context is restored with the same picture and what is half typed', async () => {
  const visitor = await openRecipe();
  const {page} = visitor;
  await halfTyped(page);
  await page.evaluate(() => {
    const context = document.getElementById('canvas').getContext('webgl2');
    globalThis.losing = context.getExtension('WEBGL_lose_context');
  });
  const before = await picture(page, 'rest-context-before');
  await page.evaluate(() => globalThis.losing.loseContext());
  await sleep(300);
  // While it is lost the page does not spin for a frame that it cannot draw.
  const lost = await counts(page);
  await sleep(500);
  assert.deepEqual(await counts(page), lost);
  await page.evaluate(() => globalThis.losing.restoreContext());
  assert.ok(await until(async () => (await counts(page)).frames > lost.frames),
    'nothing is drawn when it is back');
  await settled(page);
  await sleep(200);
  const after = await picture(page, 'rest-context-after');
  assert.ok(before.equals(after), 'the picture is another one: see rest-context-*.png');
  await page.evaluate(() => globalThis.losing.loseContext());
  await page.keyboard.type('7');
  await sleep(200);
  await page.evaluate(() => globalThis.losing.restoreContext());
  await stillHalfTyped(page, '2157');
  visitor.assertQuiet();
  await visitor.end();
});
