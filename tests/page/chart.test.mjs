// A chart in the page: told to assistive software day by day, moved by keys, one finger and two.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser} from './browser.mjs';
import {fill, find, press, settled, until, wait} from './journey.mjs';
import {sizes, Visitor} from './visitor.mjs';

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

const name = 'Drying of Caraway salami';

// What a listener is told of the chart.
const told = page => page.evaluate(() => {
  const chart = document.querySelector('#mirror [data-role="figure"][tabindex]');
  const said = attribute => chart.getAttribute(attribute);
  return {
    role: said('role'), label: said('aria-label'), words: said('aria-valuetext'),
    now: Number(said('aria-valuenow')), min: Number(said('aria-valuemin')),
    max: Number(said('aria-valuemax')),
  };
});

test('a chart is read by keys and touch, and moved by fingers', {timeout: 300000}, async () => {
  const visitor = await Visitor.start(browser, {options: sizes.narrow});
  const {page} = visitor;
  await press(page, 'row', 'Caraway salami…');
  await press(page, 'button', 'Hang it');
  await fill(page, 'textbox', 'Day of hanging', '-14');
  await press(page, 'button', 'Hang it in the chamber');
  await wait(page, 'figure', name, '', 150000);
  await press(page, 'figure', name);
  await settled(page);
  const first = await told(page);
  assert.equal(first.role, 'slider');
  assert.equal(first.label, name);
  assert.equal(first.min, 0);
  assert.ok(first.max >= 28, `${first.max}`);
  assert.match(first.words, new RegExp(`^Day ${first.now}, `));
  assert.notEqual(first.now, 14);
  assert.ok(await find(page, 'status', first.words));

  const after = async (key, day) => {
    await page.keyboard.press(key);
    const now = await until(async () => (await told(page)).now === day && day);
    assert.equal(now, day, `${key}: ${(await told(page)).now}`);
  };
  await page.locator('#mirror [data-role="figure"][tabindex]').focus();
  await after('ArrowRight', first.now + 1);
  await after('ArrowLeft', first.now);
  await after('Home', 0);
  await after('End', first.max);

  const chart = await find(page, 'figure', name);
  const middle = {x: chart.x + chart.width / 2, y: chart.y + chart.height / 2};
  const devtools = await visitor.context.newCDPSession(page);
  const touch = (type, points) => devtools.send('Input.dispatchTouchEvent', {type, touchPoints: points});
  const fingers = apart => [-1, 1].map((side, id) => ({x: middle.x + side * apart / 2, y: middle.y, id}));
  await touch('touchStart', fingers(60));
  for (let apart = 70; apart <= 150; apart += 10) await touch('touchMove', fingers(apart));
  await touch('touchEnd', []);
  await wait(page, 'button', 'Whole time');
  assert.equal((await told(page)).now, first.max, 'two fingers read nothing');
  await press(page, 'button', 'Whole time');
  assert.ok(await until(async () => !await find(page, 'button', 'Whole time')));

  const finger = y => [{...middle, y, id: 0}];
  const before = await find(page, 'figure', name);
  await touch('touchStart', finger(middle.y));
  for (let up = 10; up <= 90; up += 10) await touch('touchMove', finger(middle.y - up));
  await touch('touchEnd', []);
  const scrolled = async () => (await find(page, 'figure', name)).y < before.y - 50;
  assert.ok(await until(scrolled), 'the page scrolls');
  assert.equal((await told(page)).now, first.max);
  visitor.assertQuiet();
  await visitor.end();
});
