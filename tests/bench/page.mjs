// The page beside the floor page (SDL2, Dear ImGui and one empty window): what is sent, and when the first
// frame is there, in turns in one headless Chromium with software rendering. Prints a table and ratios, asserts
// nothing.
import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {gzipSync} from 'node:zlib';
import {openBrowser, pageFolder, serve, started} from '../page/browser.mjs';

const rounds = 5;
const folders = {page: pageFolder, floor: `${pageFolder}-floor`};

// The hashed names differ; the program is the program in both.
const plainName = name => name.replace(/^saltrafter\.[0-9a-f]{8}\./, 'saltrafter.*.');

function weigh(folder) {
  const files = new Map();
  for (const name of readdirSync(folder)) {
    const bytes = readFileSync(join(folder, name));
    files.set(plainName(name), {bytes: bytes.length, gz: gzipSync(bytes, {level: 9}).length});
  }
  return files;
}

// One first visit in a context of its own, with empty caches: its first frame in ms, and what was asked for until
// then.
async function visit(browser, address) {
  const context = await browser.newContext({viewport: {width: 1280, height: 800}, locale: 'en'});
  const page = await context.newPage();
  await page.goto(address);
  const ms = await started(page);
  const asked = await page.evaluate(() => {
    const first = performance.getEntriesByName('first-frame')[0].startTime;
    return performance.getEntriesByType('resource').filter(entry => entry.startTime < first)
      .map(entry => entry.name);
  });
  await context.close();
  // The icon is the tab's, asked for by the browser and not by the page.
  const names = [address, ...asked].map(url => new URL(url).pathname.slice(1) || 'index.html');
  return {ms, asked: new Set(names.map(plainName))};
}

const median = list => [...list].sort((a, b) => a - b)[list.length >> 1];
const kb = bytes => `${(bytes / 1000).toFixed(1)} kB`;
const sum = (files, kind, only) => [...files].filter(([name]) => !only || only.has(name))
  .reduce((all, [, size]) => all + size[kind], 0);

const files = {page: weigh(folders.page), floor: weigh(folders.floor)};
const times = {page: [], floor: []};
const asked = {};
const browser = await openBrowser();
const servers = {page: await serve(folders.page), floor: await serve(folders.floor)};
for (let round = 0; round <= rounds; ++round) {  // the first one warms up
  for (const kind of ['page', 'floor']) {
    const seen = await visit(browser, servers[kind].address);
    asked[kind] = seen.asked;
    if (round > 0) times[kind].push(seen.ms);
  }
}
await Promise.all([browser.close(), servers.page.close(), servers.floor.close()]);

const row = (name, ...cells) =>
  console.log(name.padEnd(28) + cells.map(cell => String(cell).padStart(11)).join(''));
row('', 'page', 'page gz', 'floor', 'floor gz');
for (const name of [...files.page.keys()].sort()) {
  const page = files.page.get(name);
  const floor = files.floor.get(name) ?? {bytes: '', gz: ''};
  row(`${asked.page.has(name) ? '*' : ' '} ${name}`, page.bytes, page.gz, floor.bytes, floor.gz);
}
const sums = only => ['page', 'floor'].flatMap(kind =>
  ['bytes', 'gz'].map(what => kb(sum(files[kind], what, only?.[kind]))));
row('  all', ...sums());
row('* until the first frame', ...sums(asked));
const first = kind => sum(files[kind], 'gz', asked[kind]);
console.log(`first visit in English, gz: ${kb(first('page'))} to ${kb(first('floor'))}, ` +
  `${(first('page') / first('floor')).toFixed(2)} times the floor's`);
const [ours, theirs] = [median(times.page), median(times.floor)];
console.log(`first frame, median of ${rounds} in turns: ${ours.toFixed(0)} ms to ${theirs.toFixed(0)} ms, ` +
  `${(ours / theirs).toFixed(2)} times the floor's`);
