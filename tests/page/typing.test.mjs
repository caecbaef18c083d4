// Fields of words are the browser's own elements laid over the canvas, so that a tablet's keyboard, its composing,
// selecting and pasting work; and the look that the maker chooses reaches what the browser colours.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser, picture} from './browser.mjs';
import {find, press, settled, told, until, wait} from './journey.mjs';
import {sizes, Visitor} from './visitor.mjs';

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

async function atHanging(options) {
  const visitor = await Visitor.start(browser, {options});
  await press(visitor.page, 'row', 'Caraway salami…');
  await press(visitor.page, 'button', 'Hang it');
  await wait(visitor.page, 'textbox', 'Day of hanging');
  return visitor;
}

const typing = page => page.evaluate(() => {
  const field = document.activeElement;
  const {opacity, pointerEvents, fontFamily} = getComputedStyle(field);
  return {tag: field.localName, value: field.value, opacity, pointerEvents, fontFamily,
    face: [...document.fonts].map(({family, status}) => `${family} ${status}`).join()};
});

test('a touched field of words is the browser\'s own, seen, and focused within the touch', async () => {
  const visitor = await atHanging(sizes.narrow);
  const {page} = visitor;
  // Added after the page's own listener: it runs within the same event.
  await page.evaluate(() => document.getElementById('canvas').addEventListener('pointerup', () => {
    globalThis.focusedWithin = document.activeElement.localName;
  }));
  await press(page, 'textbox', 'Day of hanging');
  assert.equal(await page.evaluate(() => globalThis.focusedWithin), 'input');
  const now = await typing(page);
  assert.equal(now.tag, 'input');
  assert.equal(now.opacity, '1');
  assert.equal(now.pointerEvents, 'auto');
  assert.match(now.fontFamily, /^"Saltrafter Serif"/);
  assert.match(now.face, /Saltrafter Serif.* loaded/);
  await page.keyboard.press('Control+a');
  await page.keyboard.type('11 Nov');
  await settled(page);
  await picture(page, 'typing-narrow');
  assert.ok(await until(() => find(page, 'textbox', 'Day of hanging', '11 Nov')), await told(page));
  await page.keyboard.press('Enter');
  await wait(page, 'status', 'Wed 11 Nov…');
  visitor.assertQuiet();
  await visitor.end();
});

test('composed letters, a caret set by hand, the browser\'s undo and a paste come in once', async () => {
  const visitor = await atHanging(sizes.wide);
  const {page} = visitor;
  await press(page, 'textbox', 'Day of hanging');
  await page.keyboard.press('Control+a');
  const devtools = await visitor.context.newCDPSession(page);
  await devtools.send('Input.imeSetComposition', {text: '1', selectionStart: 1, selectionEnd: 1});
  await devtools.send('Input.insertText', {text: '1 Nov'});
  assert.ok(await until(() => find(page, 'textbox', 'Day of hanging', '1 Nov')), await told(page));
  await page.keyboard.press('Home');
  await page.keyboard.type('2');
  assert.ok(await until(() => find(page, 'textbox', 'Day of hanging', '21 Nov')), await told(page));
  await page.keyboard.press('Control+z');
  assert.ok(await until(() => find(page, 'textbox', 'Day of hanging', '1 Nov')), await told(page));
  await page.keyboard.press('Control+a');
  await page.evaluate(() => document.execCommand('insertText', false, 'yesterday'));
  assert.ok(await until(() => find(page, 'textbox', 'Day of hanging', 'yesterday')), await told(page));
  await page.keyboard.press('Escape');
  assert.ok(await until(async () => !(await find(page, 'textbox', 'Day of hanging')).state.includes('F')));
  assert.equal(await page.evaluate(() => document.querySelectorAll('.typing').length), 0);
  await visitor.end();
});

test('the look that is chosen reaches the browser and is there again', async () => {
  const visitor = await Visitor.start(browser, {options: {...sizes.narrow, colorScheme: 'light'}});
  const {page} = visitor;
  const theme = () => page.evaluate(() => `${document.documentElement.dataset.theme} ` +
    getComputedStyle(document.body).backgroundColor);
  assert.ok(await until(async () => await theme() === 'paper rgb(245, 239, 227)'), await theme());
  await press(page, 'place', 'Shelf');
  await press(page, 'radio', 'Dark cellar');
  assert.ok(await until(async () => await theme() === 'cellar rgb(24, 20, 17)'), await theme());
  const before = (await find(page, 'heading', 'Cautions')).height;
  await press(page, 'radio', '150 %');
  assert.ok(await until(async () => (await find(page, 'heading', 'Cautions')).height > 1.4 * before));
  await settled(page);
  await picture(page, 'look-narrow');
  await page.reload();
  await wait(page, 'heading', 'Cautions');
  assert.ok(await until(async () => await theme() === 'cellar rgb(24, 20, 17)'), await theme());
  assert.ok((await find(page, 'heading', 'Cautions')).height > 1.4 * before);
  visitor.assertQuiet();
  await visitor.end();
});
