// The elements over the canvas: every control has a role, a name and a place, and acts like a finger.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser} from './browser.mjs';
import {fill, find, nodes, press, settled, sleep, told, until, wait} from './journey.mjs';
import {sizes, Visitor} from './visitor.mjs';

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

const controls = ['button', 'link', 'textbox', 'spinbutton', 'radio', 'checkbox', 'row', 'place'];

for (const [size, options] of Object.entries(sizes)) {
  test(`every control has a name and a size for a finger, and no text is cut at a side, ${size}`, async () => {
    const visitor = await Visitor.start(browser, {options});
    const {page} = visitor;
    await press(page, 'row', 'Caraway salami…');
    await wait(page, 'button', 'Hang it');
    await settled(page);
    for (const node of await nodes(page)) {
      const what = `${node.role} "${node.name}" ${JSON.stringify(node)}`;
      const control = controls.includes(node.role) && node.state.includes('f');
      if (control) {
        assert.ok(node.name, what);
        assert.ok(node.width >= 44 && node.height >= 44, what);
      }
      assert.ok(node.x >= -0.5 && node.x + node.width <= options.viewport.width + 0.5, what);
    }
    await visitor.end();
  });
}

test('roles, names, values and descriptions reach the browser\'s own tree', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await page.getByRole('heading', {name: 'Recipes'}).waitFor();
  assert.ok(await page.getByRole('navigation').getByRole('button').count() >= 5);
  await press(page, 'row', 'Caraway salami…');
  const field = page.getByRole('spinbutton', {name: 'Meat on the tray'});
  await field.waitFor();
  assert.equal(await field.inputValue(), (await find(page, 'spinbutton', 'Meat on the tray')).value);
  const tree = await page.locator('#mirror').ariaSnapshot();
  assert.match(tree, /heading "Caraway salami" \[level=1\]/);
  assert.match(tree, /button "Ingoing nitrite, met"/);
  assert.equal(await page.title(), 'Saltrafter');
  await visitor.end();
});

test('a click of assistive software does what a finger does', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await wait(page, 'row', 'Caraway salami…');
  await page.getByRole('button', {name: 'Caraway salami'}).dispatchEvent('click');
  await wait(page, 'heading', 'Caraway salami');
  await visitor.end();
});

test('letters of a keyboard reach the field once, and Tab goes on in reading order', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await press(page, 'row', 'Caraway salami…');
  await wait(page, 'spinbutton', 'Meat on the tray');
  const field = page.getByRole('spinbutton', {name: 'Meat on the tray'});
  await field.focus();
  await wait(page, 'spinbutton', 'Meat on the tray');
  assert.ok(await until(async () => (await find(page, 'spinbutton', 'Meat on the tray')).state.includes('F')));
  await page.keyboard.press('Control+a');
  await page.keyboard.type('2150');
  assert.ok(await until(async () => (await find(page, 'spinbutton', 'Meat on the tray')).value === '2150'),
    await told(page));
  assert.ok(await until(async () => await field.inputValue() === '2150'), await field.inputValue());
  await page.keyboard.press('Tab');
  await settled(page);
  const all = (await nodes(page)).filter(node => node.state.includes('f'));
  const at = all.findIndex(node => node.name === 'Meat on the tray');
  assert.ok(await until(async () => (await nodes(page)).find(node => node.key === all[at + 1].key)?.state.includes('F')),
    await told(page));
  await visitor.end();
});

test('letters that a soft keyboard composes come in once', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await press(page, 'row', 'Caraway salami…');
  await page.getByRole('spinbutton', {name: 'Meat on the tray'}).focus();
  await page.keyboard.press('Control+a');
  const devtools = await visitor.context.newCDPSession(page);
  await page.evaluate(() => document.activeElement.select());
  await devtools.send('Input.imeSetComposition', {text: '25', selectionStart: 2, selectionEnd: 2});
  await devtools.send('Input.insertText', {text: '2500'});
  assert.ok(await until(async () => (await find(page, 'spinbutton', 'Meat on the tray')).value === '2500'),
    await told(page));
  await visitor.end();
});

test('a finger that moves scrolls and presses nothing', async () => {
  const visitor = await Visitor.start(browser, {options: sizes.narrow});
  const {page} = visitor;
  await press(page, 'row', 'Caraway salami…');
  const before = await wait(page, 'heading', 'Caraway salami');
  await settled(page);
  const devtools = await visitor.context.newCDPSession(page);
  const touch = (type, y) => devtools.send('Input.dispatchTouchEvent',
    {type, touchPoints: type === 'touchEnd' ? [] : [{x: 200, y}]});
  await touch('touchStart', 600);
  for (let y = 580; y >= 400; y -= 20) await touch('touchMove', y);
  await sleep(120);
  await touch('touchMove', 400);
  await touch('touchEnd');
  await settled(page);
  const after = (await nodes(page)).find(node => node.role === 'heading' && node.name === before.name);
  assert.ok(after && after.y < before.y - 150, await told(page));
  await visitor.end();
});

test('a program that has stopped leaves plain words and the maker\'s data', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await wait(page, 'status', 'Saved on this device');
  await page.evaluate(async () => {
    const {end} = await import(new URL('program.js', document.baseURI).href);
    end(new Error('unreachable'));
  });
  await page.getByText('The program has stopped').waitFor();
  const [download] = await Promise.all([page.waitForEvent('download'),
    page.getByRole('button', {name: 'Download my data'}).click()]);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  const {local_storage: first, database: second} = JSON.parse(Buffer.concat(chunks));
  assert.ok(Object.keys(second).length > 0);
  for (const [key, text] of Object.entries(second)) assert.equal(first[key], text);
  await visitor.end();
});
