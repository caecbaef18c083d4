// The main job in the page, wide and narrow, by touch and through the mirror, a picture of each step.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser} from './browser.mjs';
import {matches, readJourney} from './journey.mjs';
import {playStory} from './story.mjs';
import {sizes, Visitor} from './visitor.mjs';

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

test('a journey is read a step a line, and a line that is none is named', () => {
  const steps = readJourney('# remark\n\nsee row "Salt…" "…g"\nclose\nopen_file "gift"\n');
  assert.deepEqual(steps, [
    {line: 3, verb: 'see', role: 'row', name: 'Salt…', value: '…g'},
    {line: 4, verb: 'close', role: '', name: '', value: ''},
    {line: 5, verb: 'open_file', role: '', name: 'gift', value: ''},
  ]);
  for (const wrong of ['see nothing "a"', 'press button', 'see row "a', 'see row "a" "b" "c"']) {
    assert.throws(() => readJourney(`\n${wrong}`), /line 2/, wrong);
  }
});

test('a pattern is open where it has dots, and exact where it has none', () => {
  assert.ok(matches('Salt…', 'Salt, fine') && matches('…fine', 'Salt, fine') && matches('…t, f…', 'Salt, fine'));
  assert.ok(matches('Salt', 'Salt') && !matches('Salt', 'Salt, fine') && !matches('…Salt', 'Salt, fine'));
  assert.ok(matches('3 150 g', '3\u2009150\u2009g') && !matches('3150 g', '3\u2009150\u2009g'));
});

for (const [size, options] of Object.entries(sizes)) {
  test(`the first batch, ${size}`, async () => {
    const visitor = await Visitor.start(browser, {options});
    await playStory(visitor, size);
  });

  test(`the tables, own rows and rules, ${size}`, async () => {
    const visitor = await Visitor.start(browser, {options});
    await playStory(visitor, `tables-${size}`, 'tables');
  });

  test(`a recipe from its packet to a batch, ${size}`, async () => {
    const visitor = await Visitor.start(browser, {options});
    await playStory(visitor, `formulation-${size}`, 'formulation');
  });

  test(`pieces while they dry, ${size}`, async () => {
    const visitor = await Visitor.start(browser, {options});
    await playStory(visitor, `drying-${size}`, 'drying');
  });
}
