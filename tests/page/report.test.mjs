// The page and the desktop program compute the same: one book, both reports, figure by figure.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {existsSync, mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {openBrowser, root} from './browser.mjs';
import {fill, press, wait} from './journey.mjs';
import {Visitor} from './visitor.mjs';

const program = process.env.SALTRAFTER_PROGRAM ?? join(root, 'build/native/saltrafter');
let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

// Numbers to 1e-9 relative or 1e-12 absolute, all else exactly. Gives how many numbers agreed.
function agree(one, other, path) {
  if (typeof one === 'number' && typeof other === 'number') {
    const apart = Math.abs(one - other);
    assert.ok(apart <= 1e-12 || apart <= 1e-9 * Math.max(Math.abs(one), Math.abs(other)), `${path}: ${one} ${other}`);
    return 1;
  }
  if (one === null || typeof one !== 'object') {
    assert.deepEqual(one, other, path);
    return 0;
  }
  assert.deepEqual(Object.keys(one), Object.keys(other), path);
  return Object.keys(one).reduce((sum, key) => sum + agree(one[key], other[key], `${path}/${key}`), 0);
}

test('the page\'s report of its book is the desktop program\'s', {timeout: 300000}, async () => {
  assert.ok(existsSync(program), `${program} is not built`);
  const visitor = await Visitor.start(browser);
  const {page, shell} = visitor;
  await press(page, 'row', 'Caraway salami…');
  await fill(page, 'spinbutton', 'Meat on the tray', '4 200');
  await press(page, 'button', 'Hang it');
  await fill(page, 'spinbutton', 'Casing', '55');
  await fill(page, 'textbox', 'Day of hanging', '-14');
  await press(page, 'button', 'Hang it in the chamber');
  await wait(page, 'text', '…80 % sure…', '', 150000);
  await press(page, 'row', 'Piece 1…');
  await fill(page, 'textbox', 'Day', '-7');
  await fill(page, 'spinbutton', 'Weight', '960');
  await press(page, 'button', 'Keep this weight');
  await wait(page, 'row', 'Piece 1…', '…960…');
  await press(page, 'place', 'Shelf');
  await press(page, 'button', 'Save everything to a file');
  await shell.take_file('book');
  await press(page, 'button', 'Save the report');
  await shell.take_file('report');
  const today = await page.evaluate(() => {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map(n => String(n).padStart(2, '0')).join('-');
  });
  await visitor.end();
  const folder = mkdtempSync(join(tmpdir(), 'saltrafter-report-'));
  try {
    const book = join(folder, 'book.saltrafter.json');
    writeFileSync(book, visitor.taken.get('book'));
    const printed = execFileSync(program, ['--report', book, '--today', today], {encoding: 'utf8', timeout: 120000});
    const numbers = agree(JSON.parse(visitor.taken.get('report')), JSON.parse(printed), '');
    assert.ok(numbers > 50, `only ${numbers} numbers were compared`);
  } finally {
    rmSync(folder, {recursive: true, force: true});
  }
});
