// Files that come in: whatever is wrong with one is said in one message, and the book stays byte for byte.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser} from './browser.mjs';
import {find, nodes, press, settled, sleep, told, until, wait} from './journey.mjs';
import {Visitor} from './visitor.mjs';

const saved = 'Saved on this device';
let browser;
let good;

before(async () => {
  browser = await openBrowser();
  const visitor = await Visitor.start(browser);
  await press(visitor.page, 'row', 'Caraway salami…');
  await press(visitor.page, 'button', 'Send to a friend');
  await visitor.shell.take_file('good');
  good = visitor.taken.get('good');
  await visitor.end();
});
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

const changed = change => {
  const file = JSON.parse(good);
  change(file);
  return JSON.stringify(file, null, 2);
};
// The first member that holds a number or a unit, wherever the format keeps it.
function walk(value, visit) {
  if (value === null || typeof value !== 'object') return false;
  return Object.keys(value).some(key => visit(value, key) || walk(value[key], visit));
}

const bad = {
  'cut off': () => good.slice(0, good.length >> 1),
  'not JSON': () => 'Dear friend, here is my recipe.',
  'of another kind': () => '{"format": "something.else", "schema": 1}',
  'of a wrong type': () => changed(file => assert.ok(walk(file.recipe, (owner, key) =>
    typeof owner[key] === 'number' && (owner[key] = 'much', true)))),
  'with a doubled key': () => good.replace('"schema": 1', '"schema": 1,\n  "schema": 1'),
  'with a number out of range': () => changed(file => assert.ok(walk(file.recipe, (owner, key) =>
    typeof owner[key] === 'number' && (owner[key] = -5e9, true)))),
  'empty': () => '',
  'too large': () => ' '.repeat(2 << 20),
};

for (const [name, make] of Object.entries(bad)) {
  test(`a file ${name} changes nothing and is said to be wrong`, async () => {
    const visitor = await Visitor.start(browser);
    const {page} = visitor;
    await wait(page, 'status', saved);
    await settled(page);
    const before = await visitor.slots();
    await visitor.give('gift.saltrafter.json', make());
    const said = await until(async () => (await nodes(page)).find(node => node.role === 'alert' && node.name));
    assert.ok(said, await told(page));
    assert.equal(await find(page, 'text', 'From a file, not kept yet'), null);
    await sleep(1300);
    assert.deepEqual(await visitor.slots(), before);
    visitor.assertQuiet();
    await visitor.end();
  });
}

test('a file of an unknown unit says so', async () => {
  const unit = changed(file => assert.ok(walk(file.recipe, (owner, key) =>
    /unit|basis/.test(key) && typeof owner[key] === 'string' && (owner[key] = 'stone', true))));
  const visitor = await Visitor.start(browser);
  await wait(visitor.page, 'status', saved);
  const before = await visitor.slots();
  await visitor.give('gift.saltrafter.json', unit);
  const said = await until(async () => (await nodes(visitor.page)).find(node => node.role === 'alert' && node.name));
  assert.ok(said && /stone/.test(`${said.name} ${said.value} ${said.note}`), await told(visitor.page));
  await sleep(1300);
  assert.deepEqual(await visitor.slots(), before);
  await visitor.end();
});

test('a file of a newer schema is shown, said to be newer, and cannot be kept', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await wait(page, 'status', saved);
  const before = await visitor.slots();
  await visitor.give('gift.saltrafter.json', changed(file => { file.schema = 99; file.minReader = 99; }));
  await wait(page, 'heading', 'Caraway salami');
  assert.ok((await nodes(page)).some(node => /newer/.test(node.name)), await told(page));
  const keep = await find(page, 'button', 'Keep it');
  assert.ok(!keep || keep.state.includes('d'), await told(page));
  await sleep(1300);
  assert.deepEqual(await visitor.slots(), before);
  await visitor.end();
});

test('a file dropped on the page is opened, and the page stays', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await page.evaluate(text => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'gift.saltrafter.json', {type: ''}));
    const drop = new DragEvent('drop', {dataTransfer: data, bubbles: true, cancelable: true});
    document.getElementById('canvas').dispatchEvent(drop);
    if (!drop.defaultPrevented) throw new Error('the browser would go to the file');
  }, good);
  await wait(page, 'text', 'From a file, not kept yet');
  await visitor.end();
});

test('the act asks the browser for a file, and what is chosen is opened', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  const asked = page.waitForEvent('filechooser', {timeout: 10000});
  await press(page, 'button', 'Open a recipe file');
  const chooser = await asked;
  await chooser.setFiles({name: 'gift.saltrafter.json', mimeType: 'application/json', buffer: Buffer.from(good)});
  await wait(page, 'text', 'From a file, not kept yet');
  visitor.assertQuiet();
  await visitor.end();
});
