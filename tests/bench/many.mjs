// A batch of 60 pieces in the page: how long the program works at a time while it forecasts and advises, and what a
// frame costs meanwhile beside one at rest. Prints a table; nothing here fails.
//
//   node tests/bench/many.mjs        wants the built page and the packages of tests/page
import {openBrowser} from '../page/browser.mjs';
import {fill, press, settled, sleep, until, wait} from '../page/journey.mjs';
import {Visitor} from '../page/visitor.mjs';

// Times each call of the program by its name.
const measure = page => page.evaluate(() => {
  window.spent = {work: [], draw: []};
  for (const name of Object.keys(spent)) {
    const plain = saltrafter[`_saltrafter_${name}`];
    saltrafter[`_saltrafter_${name}`] = (...given) => {
      const began = performance.now();
      const answer = plain(...given);
      spent[name].push(performance.now() - began);
      return answer;
    };
  }
});
const take = page => page.evaluate(() => {
  const all = {work: [...spent.work], draw: [...spent.draw]};
  spent.work.length = spent.draw.length = 0;
  return all;
});

function row(name, times) {
  const sorted = [...times].sort((a, b) => a - b);
  const at = share => sorted.length ? sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] : 0;
  const sum = sorted.reduce((all, ms) => all + ms, 0);
  console.log(name.padEnd(30) + [sorted.length, at(0.5), at(0.99), at(1), sum]
    .map((figure, i) => figure.toFixed(i ? 1 : 0).padStart(10)).join(''));
}

const browser = await openBrowser();
try {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await wait(page, 'status', 'Saved on this device');
  await press(page, 'row', 'Caraway salami…');
  await fill(page, 'spinbutton', 'Meat on the tray', '63000');
  await press(page, 'button', 'Hang it');
  await wait(page, 'heading', 'Hang Caraway salami');
  await fill(page, 'textbox', 'Day of hanging', '-14');
  await measure(page);
  await press(page, 'button', 'Hang it in the chamber');
  await wait(page, 'text', '…80 % sure…', '', 300000);
  await wait(page, 'heading', 'What would bring it sooner…', '', 300000);
  await settled(page, 60000);
  const busy = await take(page);
  // The same frames with nothing to work at: the page is scrolled to and fro.
  await until(() => page.evaluate(() => saltrafter._saltrafter_wants_frame() === 0), 10000);
  await take(page);
  for (let turn = 0; turn < 20; ++turn) {
    await page.mouse.wheel(0, turn % 2 ? -200 : 200);
    await sleep(60);
  }
  const rest = await take(page);
  console.log(''.padEnd(30) + ['times', 'median ms', '99 %', 'longest', 'in all'].map(head => head.padStart(10)).join(''));
  row('work, forecasting', busy.work);
  row('draw, forecasting', busy.draw);
  row('work, at rest', rest.work);
  row('draw, at rest', rest.draw);
  await visitor.end();
} finally {
  await browser.close();
}
