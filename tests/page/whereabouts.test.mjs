// The address bar, Back and Forward, and what a reload leaves as it was.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser} from './browser.mjs';
import {find, press, settled, until, wait} from './journey.mjs';
import {sizes, Visitor} from './visitor.mjs';

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

const hash = page => page.evaluate(() => location.hash);

test('Back and Forward go through what was opened, and the address names it', async () => {
  const visitor = await Visitor.start(browser, {options: sizes.narrow});
  const {page} = visitor;
  await until(async () => await hash(page) === '#bench');
  await press(page, 'row', 'Caraway salami…');
  await wait(page, 'heading', 'Caraway salami');
  assert.match(await until(async () => (await hash(page)).length > 10 && hash(page)), /^#bench\/[a-z2-7]{16}$/);
  await press(page, 'place', 'Air');
  assert.ok(await until(async () => await hash(page) === '#air'));
  await page.goBack();
  await wait(page, 'heading', 'Caraway salami');
  await page.goBack();
  await wait(page, 'heading', 'Recipes');
  await page.goForward();
  await page.goForward();
  assert.ok(await until(async () => await hash(page) === '#air'));
  // An address that names nothing is put right and makes no step.
  await page.evaluate(() => { location.hash = 'attic'; });
  assert.ok(await until(async () => await hash(page) === '#air'));
  visitor.assertQuiet();
  await visitor.end();
});

test('a reload leaves place, scroll and half-typed input as they were', async () => {
  const visitor = await Visitor.start(browser, {options: sizes.narrow});
  const {page} = visitor;
  await press(page, 'row', 'Caraway salami…');
  await wait(page, 'heading', 'Caraway salami');
  await page.mouse.move(195, 400);
  await page.mouse.wheel(0, 60);
  await press(page, 'spinbutton', 'Meat on the tray');
  await page.keyboard.type('42');
  await wait(page, 'spinbutton', 'Meat on the tray', '42');
  await settled(page);
  const {y} = await find(page, 'heading', 'Caraway salami');
  await page.reload();
  const field = await wait(page, 'spinbutton', 'Meat on the tray', '42');
  assert.match(field.state, /F/, 'it has the focus');
  assert.ok(Math.abs((await find(page, 'heading', 'Caraway salami')).y - y) < 1);
  await page.keyboard.type('00');
  await page.keyboard.press('Enter');
  await wait(page, 'row', 'Pork shoulder', '…3 150 g');
  await page.keyboard.press('Control+z');
  await wait(page, 'row', 'Pork shoulder', '…750 g');
  await page.keyboard.press('Control+Shift+z');
  await wait(page, 'row', 'Pork shoulder', '…3 150 g');
  visitor.assertQuiet();
  await visitor.end();
});
