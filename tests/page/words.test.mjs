// In the pseudo-language every text of the catalogue stands in brackets: what does not was written in the code.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser, picture} from './browser.mjs';
import {fill, nodes, press, settled, told, until, wait} from './journey.mjs';
import {Visitor} from './visitor.mjs';

const accents = {a: 'á', e: 'é', i: 'í', o: 'ô', u: 'ü', y: 'ý', A: 'Á', E: 'É', I: 'Í', O: 'Ô', U: 'Ü'};
const pseudo = english => `…${[...english].map(letter => accents[letter] ?? letter).join('')}…`;

// What is left when all that stands in brackets is taken out, brackets in brackets too.
function unbracketed(text) {
  let depth = 0;
  return [...text].filter(letter => {
    if (letter === '[') ++depth;
    if (letter === ']') { --depth; return false; }
    return depth === 0;
  }).join('');
}

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

async function check(page, screen) {
  await settled(page);
  const all = await nodes(page);
  assert.ok(all.length > 5, screen);
  assert.ok(all.some(node => node.name.startsWith('[')), screen);
  for (const node of all) {
    // Signs and units are the same in every language, and shorter than words.
    if (!node.state.includes('v')) assert.doesNotMatch(unbracketed(node.name), /\p{L}{4}/u, `${screen}: ${node.role} ${node.name}`);
    assert.doesNotMatch(unbracketed(node.note), /\p{L}{4}/u, `${screen}: ${node.role} ${node.name}: ${node.note}`);
  }
}

test('no text on the two screens is written in the code', {timeout: 300000}, async () => {
  const visitor = await Visitor.start(browser, {path: '?pseudo'});
  const {page} = visitor;
  const recipe = await until(async () => (await nodes(page)).find(node =>
    node.role === 'row' && node.name.includes('Caraway salami')));
  assert.ok(recipe, await told(page));
  await check(page, 'recipes');
  await press(page, 'row', recipe.name);
  await wait(page, 'button', pseudo('Hang it'));
  await check(page, 'recipe');
  await picture(page, 'pseudo-recipe');
  await press(page, 'button', pseudo('Hang it'));
  await wait(page, 'spinbutton', pseudo('Casing'));
  await fill(page, 'spinbutton', pseudo('Casing'), '55');
  await check(page, 'hanging');
  await press(page, 'button', pseudo('Hang it in the chamber'));
  await wait(page, 'figure', pseudo('Drying of'), '', 150000);
  await check(page, 'forecast');
  await picture(page, 'pseudo-forecast');
  visitor.assertQuiet();
  await visitor.end();
});
