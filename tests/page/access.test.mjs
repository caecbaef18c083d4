// What assistive software is given: axe-core finds nothing on any screen, and what is new is said once.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {openBrowser, root, serve, started, watch} from './browser.mjs';
import {fill, nodes, press, settled, told, until, wait} from './journey.mjs';
import {sizes, Visitor} from './visitor.mjs';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

// Rules that a screen of ours must give something to look at: a run that sees nothing finds nothing.
const atWork = ['aria-allowed-attr', 'aria-hidden-focus', 'button-name', 'heading-order', 'landmark-one-main',
  'page-has-heading-one', 'region'];

// look(PAGE, WHAT, RULES): axe's findings on the screen as it is, in both schemes. Letters are on the canvas,
// where it sees none: their contrast is measured by the palette's own test.
async function look(page, what, rules = atWork) {
  for (const colorScheme of ['light', 'dark']) {
    await page.emulateMedia({colorScheme});
    await settled(page);
    if (!await page.evaluate(() => Boolean(globalThis.axe))) await page.evaluate(axeSource);
    const found = await page.evaluate(async () => {
      const short = list => list.map(({id, help, nodes: at}) =>
        ({id, help, at: at.slice(0, 3).map(({html, any, all, none}) =>
          [html, ...[...any, ...all, ...none].map(({message}) => message)].join(' | '))}));
      // axe notes an element's place in the page at one time and looks for it at another: where elements came or
      // went meanwhile (a forecast ended), what it found is of no page that ever stood, and it looks again.
      let moved = true;
      let result;
      const comes = ({addedNodes, removedNodes}) =>
        [...addedNodes, ...removedNodes].some(node => node.nodeType === Node.ELEMENT_NODE);
      const observer = new MutationObserver(all => { moved ||= all.some(comes); });
      observer.observe(document.getElementById('mirror'), {childList: true, subtree: true});
      for (let looks = 0; moved && looks < 5; ++looks) {
        moved = false;
        result = await axe.run(document);
        moved ||= observer.takeRecords().some(comes);
      }
      observer.disconnect();
      if (moved) throw new Error('the page did not stand still for axe to look at it');
      const {violations, incomplete, passes} = result;
      return {violations: short(violations), incomplete: short(incomplete), passes: passes.map(({id}) => id)};
    });
    const where = `${what}, ${colorScheme}`;
    assert.deepEqual(found.violations, [], where);
    assert.deepEqual(found.incomplete.filter(({id}) => id !== 'color-contrast'), [], where);
    assert.deepEqual(rules.filter(rule => !found.passes.includes(rule)), [], `${where}: not looked at`);
  }
}

for (const [size, options] of Object.entries(sizes)) {
  test(`axe finds nothing on any screen, ${size}`, async () => {
    const visitor = await Visitor.start(browser, {options});
    const {page} = visitor;
    await wait(page, 'status', 'Saved on this device');
    for (const place of ['Round', 'Rails', 'Air', 'Shelf', 'Bench']) {
      await press(page, 'place', place);
      await look(page, place);
    }
    await press(page, 'row', 'Caraway salami…');
    await wait(page, 'heading', 'Caraway salami');
    await look(page, 'the recipe', [...atWork, 'listitem', 'label', 'role-img-alt']);
    await press(page, 'row', 'Ingoing nitrite…');
    await fill(page, 'spinbutton', 'Meat on the tray', '1,250');
    await look(page, 'the recipe with a refused figure');
    await fill(page, 'spinbutton', 'Meat on the tray', '4 200');
    await press(page, 'button', 'Hang it');
    await wait(page, 'heading', 'Hang Caraway salami');
    await look(page, 'hanging');
    await press(page, 'button', 'Hang it in the chamber');
    await wait(page, 'progressbar', '…');
    await look(page, 'a forecast under way');
    await wait(page, 'text', '…80 % sure…', '', 150000);
    await look(page, 'the batch');
    await press(page, 'row', 'Piece 1…');
    await wait(page, 'heading', 'Piece 1');
    await press(page, 'spinbutton', 'Weight');
    await wait(page, 'button', '7');
    await look(page, 'weighing with the pad');
    visitor.assertQuiet();
    await visitor.end();
  });

  test(`axe finds nothing in the gallery of all parts, ${size}`, async () => {
    const server = await serve(process.env.SALTRAFTER_GALLERY ?? join(root, 'build/page-gallery'));
    const context = await browser.newContext(options);
    try {
      const page = await context.newPage();
      const complaints = await watch(page, server.address);
      await page.goto(server.address);
      await started(page);
      await wait(page, 'progressbar', 'Forecast…');
      await look(page, 'the gallery',
        [...atWork, 'aria-progressbar-name', 'label', 'listitem', 'role-img-alt']);
      assert.deepEqual(complaints, []);
    } finally {
      await context.close();
      await server.close();
    }
  });
}

test('places are a navigation, the rest one main part, rows a list, the canvas no part of it', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await wait(page, 'row', 'Caraway salami…');
  const rows = (await nodes(page)).filter(node => node.role === 'row').length;
  assert.equal(await page.getByRole('main').getByRole('listitem').getByRole('button').count(), rows);
  assert.equal(await page.getByRole('navigation').getByRole('button').count(), 5);
  assert.equal(await page.getByRole('main').count(), 1);
  assert.equal(await page.locator('#mirror > *').count(), 2);
  assert.equal(await page.locator('#canvas').getAttribute('aria-hidden'), 'true');
  await visitor.end();
});

test('a notice is said once, when it comes, and nothing else is said again', async () => {
  const visitor = await Visitor.start(browser, {options: sizes.narrow});
  const {page} = visitor;
  await wait(page, 'status', 'Saved on this device');
  await press(page, 'row', 'Caraway salami…');
  await wait(page, 'heading', 'Caraway salami');
  await page.getByText('Saved on this device').waitFor({state: 'attached'});
  // What a reader would say: words that come into a region that was there before, and alerts as they come.
  await page.evaluate(() => {
    globalThis.said = [];
    const regionOf = node =>
      (node.nodeType === Node.TEXT_NODE ? node.parentElement : node).closest?.('[role=status]');
    new MutationObserver(records => {
      const added = records.flatMap(({addedNodes}) => [...addedNodes]);
      const born = new Set(added.filter(node => node.role === 'status'));
      for (const {target} of records) {
        const region = regionOf(target);
        if (!region || born.has(region) || !region.textContent) continue;
        if (globalThis.said.at(-1) !== region.textContent) globalThis.said.push(region.textContent);
      }
    }).observe(document.getElementById('mirror'), {subtree: true, childList: true, characterData: true});
  });
  await press(page, 'button', 'Send to a friend');
  const notice = await wait(page, 'status', '…saltrafter.json…');
  assert.ok(await until(() => page.evaluate(() => globalThis.said.length > 0)), await told(page));
  await page.waitForTimeout(500);
  assert.deepEqual(await page.evaluate(() => globalThis.said), [notice.name]);
  await visitor.end();
});

test('keys of the pad are no stops of the keyboard, and pressed leave the focus in the field', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await press(page, 'row', 'Caraway salami…');
  await wait(page, 'heading', 'Caraway salami');
  await press(page, 'spinbutton', 'Meat on the tray');
  await wait(page, 'button', '7');
  const key = page.getByRole('button', {name: '7', exact: true});
  assert.equal(await key.getAttribute('tabindex'), '-1');
  await key.evaluate(element => {
    element.focus();
    element.click();
  });
  const field = page.getByRole('spinbutton', {name: 'Meat on the tray'});
  assert.ok(await until(async () => await field.inputValue() === '7'), await told(page));
  assert.ok(await until(() => field.evaluate(element => element === document.activeElement)),
    await told(page));
  await visitor.end();
});
