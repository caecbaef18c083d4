// What a page at rest costs: main-thread time, frames and wake-ups in 5 idle seconds, by the browser's own
// figures. Prints a line a run; nothing here fails.
//
//   node tests/bench/idle.mjs [RUNS]        wants the built page and the packages of tests/page
import {openBrowser} from '../page/browser.mjs';
import {press, settled, sleep, wait} from '../page/journey.mjs';
import {Visitor} from '../page/visitor.mjs';

const runs = Number(process.argv[2] ?? 3);
const idleMs = 5000;

const browser = await openBrowser();
try {
  for (const screen of ['recipes', 'a recipe', 'a batch']) {
    const visitor = await Visitor.start(browser);
    const {page} = visitor;
    await wait(page, 'status', 'Saved on this device');
    if (screen !== 'recipes') {
      await press(page, 'row', 'Caraway salami…');
      await wait(page, 'button', 'Hang it');
    }
    if (screen === 'a batch') {
      await press(page, 'button', 'Hang it');
      await wait(page, 'heading', 'Hang Caraway salami');
      await press(page, 'button', 'Hang it in the chamber');
      await wait(page, 'text', '…80 % sure…', '', 150000);
    }
    await settled(page);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
    await sleep(3000);
    const devtools = await visitor.context.newCDPSession(page);
    await devtools.send('Performance.enable');
    const read = async () => {
      const {metrics} = await devtools.send('Performance.getMetrics');
      const figure = name => metrics.find(metric => metric.name === name).value;
      const counts = await page.evaluate(() =>
        [saltrafter._saltrafter_frames(), saltrafter._saltrafter_works()]);
      return {taskMs: figure('TaskDuration') * 1000, scriptMs: figure('ScriptDuration') * 1000, counts};
    };
    for (let run = 1; run <= runs; ++run) {
      // Twice without a pause: what the reading itself costs.
      const before = await read();
      const zero = await read();
      await sleep(idleMs);
      const after = await read();
      const own = zero.taskMs - before.taskMs;
      const cost = after.taskMs - zero.taskMs - own;
      const scripts = after.scriptMs - zero.scriptMs;
      console.log(`${screen}, ${idleMs / 1000} s: ${cost.toFixed(1)} ms of the main thread ` +
        `(scripts ${scripts.toFixed(1)}; the reading itself, taken off, ${own.toFixed(1)}), ` +
        `${after.counts[0] - zero.counts[0]} frames, ${after.counts[1] - zero.counts[1]} wake-ups`);
    }
    await visitor.end();
  }
} finally {
  await browser.close();
}
