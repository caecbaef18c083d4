// Any script: a name that our faces cannot set is drawn by the device's fonts as the browser itself draws it.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {openBrowser, picture, root} from './browser.mjs';
import {settled, until, wait} from './journey.mjs';
import {Visitor} from './visitor.mjs';

const names = {
  Korean: '매운소시지와햄',
  Japanese: '鴨の生ハム、カルパッチョ',
  Chinese: '云南宣威火腿',
  Arabic: 'بسطرمة لحم البقر',
  Persian: 'سوسیس خشک ۲۵٪ نمک',
  Hebrew: 'נקניק מיושן',
  Thai: 'ไส้กรอกอีสานน้ำปลา',
};
const places = {
  'on paper': {viewport: {width: 1000, height: 800}},
  'in the cellar at twice the pixels':
    {viewport: {width: 700, height: 700}, deviceScaleFactor: 2, colorScheme: 'dark'},
};
// What the heading is set in: core/desk/parts/type.h.
const size = 34;
const family = 'serif';

const fixture = JSON.parse(readFileSync(join(root, 'tests/fixtures/schema1.recipe.saltrafter.json'), 'utf8'));
let browser;
let lab;  // a page of nobody's, where pictures are taken apart

before(async () => {
  browser = await openBrowser();
  lab = await browser.newPage();
});
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

// recipe(NAME): a file with that name, whose every line has it too.
const recipe = name => {
  const file = structuredClone(fixture);
  file.recipe.name = name;
  for (const line of file.recipe.lines) line.name = name;
  return JSON.stringify(file);
};

// ink(PNG): where a picture differs from its upper left corner, cut to what it shows: sums by column and row.
const ink = png => lab.evaluate(async base64 => {
  const image = new Image();
  image.src = `data:image/png;base64,${base64}`;
  await image.decode();
  const {width, height} = image;
  const context = new OffscreenCanvas(width, height).getContext('2d');
  context.drawImage(image, 0, 0);
  const {data} = context.getImageData(0, 0, width, height);
  const at = (x, y) => Math.abs(data[4 * (x + y * width) + 1] - data[1]) / 255;
  const columns = Array.from({length: width}, (_, x) => {
    let sum = 0;
    for (let y = 0; y < height; ++y) sum += at(x, y);
    return sum;
  });
  const rows = Array.from({length: height}, (_, y) => {
    let sum = 0;
    for (let x = 0; x < width; ++x) sum += at(x, y);
    return sum;
  });
  const cut = sums => {
    const first = sums.findIndex(sum => sum > 0.3);
    return first < 0 ? [] : sums.slice(first, sums.findLastIndex(sum => sum > 0.3) + 1);
  };
  let vivid = 0;
  for (let i = 0; i < data.length; i += 4) {
    const rgb = data.slice(i, i + 3);
    vivid += Math.max(...rgb) - Math.min(...rgb) > 90 ? 1 : 0;
  }
  return {columns: cut(columns), rows: cut(rows), vivid};
}, png.toString('base64'));

// Within a pixel: letters that are set one by one stand on whole pixels, those of a browser's line need not.
const smooth = list => list.map((value, i) => (list[i - 1] ?? 0) + value + (list[i + 1] ?? 0));

// alike(A, B): how two profiles go together, from -1 to 1, the second stretched to the first.
function alike(sharpA, sharpB) {
  const [a, b] = [smooth(sharpA), smooth(sharpB)];
  const n = a.length;
  const other = a.map((_, i) => {
    const at = n > 1 ? i * (b.length - 1) / (n - 1) : 0;
    const low = Math.floor(at);
    const high = Math.min(low + 1, b.length - 1);
    return b[low] + (b[high] - b[low]) * (at - low);
  });
  const mean = list => list.reduce((sum, value) => sum + value, 0) / n;
  const [ma, mb] = [mean(a), mean(other)];
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < n; ++i) {
    ab += (a[i] - ma) * (other[i] - mb);
    aa += (a[i] - ma) ** 2;
    bb += (other[i] - mb) ** 2;
  }
  return ab / Math.sqrt(aa * bb);
}

// difference(A, B): what keeps two pictures of a name from being the same, in words; empty when nothing does.
function difference(ours, theirs) {
  const off = (a, b) => Math.abs(a.length - b.length);
  const [wide, high] = [theirs.columns, theirs.rows];
  if (off(ours.columns, wide) > 0.03 * wide.length) return `${ours.columns.length} wide, not ${wide.length}`;
  if (off(ours.rows, high) > Math.max(1, 0.03 * high.length)) {
    return `${ours.rows.length} high, not ${high.length}`;
  }
  const [across, down] = [alike(ours.columns, wide), alike(ours.rows, high)];
  return across >= 0.9 && down >= 0.9 ? '' : `alike ${across.toFixed(3)} across, ${down.toFixed(3)} down`;
}

async function opened(name, options, init) {
  const visitor = await Visitor.start(browser, {options, init});
  await visitor.give('gift.saltrafter.json', recipe(name));
  return visitor;
}

// ourPicture(PAGE, NAME): of the heading that says it.
async function ourPicture(page, name) {
  const {x, y, width, height} = await wait(page, 'heading', name);
  await settled(page);
  const clip = {x: Math.max(0, x - 8), y: y - 3, width: width + 16, height: height + 6};
  return ink(await page.screenshot({clip}));
}

// theirPicture(PAGE, TEXT): an element's over the page, set in the same family, size and colours.
async function theirPicture(page, text) {
  const clip = await page.evaluate(([words, sizePx, serif]) => {
    const element = document.createElement('div');
    element.id = 'theirs';
    element.dir = 'auto';
    element.textContent = words;
    const {backgroundColor, color} = getComputedStyle(document.body);
    Object.assign(element.style, {
      position: 'fixed', left: '0', top: '0', zIndex: '9', padding: '20px', whiteSpace: 'nowrap',
      font: `${sizePx}px/1.6 ${serif}`, backgroundColor, color,
    });
    document.body.append(element);
    const {x, y, width, height} = element.getBoundingClientRect();
    return {x, y, width, height};
  }, [text, size, family]);
  const png = await page.screenshot({clip});
  await page.evaluate(() => document.getElementById('theirs').remove());
  return ink(png);
}

for (const [place, options] of Object.entries(places)) {
  for (const [language, name] of Object.entries(names)) {
    test(`a name in ${language} looks as the browser draws it, ${place}`, async () => {
      const visitor = await opened(name, options);
      const {page} = visitor;
      const ours = await ourPicture(page, name);
      assert.equal(difference(ours, await theirPicture(page, name)), '');
      // The comparison tells a turned name and a row of boxes from the right one.
      const turned = `${/[\u0590-\u08ff]/.test(name) ? '\u202d' : '\u202e'}${name}`;
      assert.notEqual(difference(ours, await theirPicture(page, turned)), '');
      assert.notEqual(difference(ours, await theirPicture(page, '\ue000'.repeat([...name].length))), '');
      await picture(page, `script-${language.toLowerCase()}-${options.deviceScaleFactor ?? 1}`);
      visitor.assertQuiet();
      await visitor.end();
    });
  }
}

test('emoji keep their colours, and a joined one is one picture', async () => {
  const name = 'Ham 👩‍🌾🐖';
  const visitor = await opened(name, places['on paper']);
  const ours = await ourPicture(visitor.page, name);
  assert.ok(ours.vivid > 100, `${ours.vivid} vivid pixels`);
  const theirs = await theirPicture(visitor.page, '👩‍🌾🐖');
  const latin = (await theirPicture(visitor.page, 'Ham')).columns.length;
  const wide = ours.columns.length;
  assert.ok(Math.abs(wide - latin - theirs.columns.length) < size, `${wide} wide`);
  await visitor.end();
});

test('after the graphics device was lost the name is there again', async () => {
  const name = names.Thai;
  const visitor = await opened(name, places['on paper']);
  const {page} = visitor;
  const ours = await ourPicture(page, name);
  const frames = () => page.evaluate(() => saltrafter._saltrafter_frames());
  const drawn = await frames();
  await page.evaluate(() => new Promise(done => {
    const canvas = document.getElementById('canvas');
    const device = canvas.getContext('webgl2').getExtension('WEBGL_lose_context');
    canvas.addEventListener('webglcontextrestored', () => setTimeout(done, 0), {once: true});
    const restore = () => setTimeout(() => device.restoreContext(), 50);
    canvas.addEventListener('webglcontextlost', restore, {once: true});
    device.loseContext();
  }));
  await page.evaluate(() => saltrafter._saltrafter_wake());
  await page.setViewportSize({width: 1001, height: 800});
  assert.ok(await until(async () => await frames() > drawn));
  assert.equal(difference(await ourPicture(page, name), ours), '');
  await visitor.end();
});

test('a browser that answers with noise gets boxes instead, and the page runs on', async () => {
  const noise = () => {
    const {getImageData} = CanvasRenderingContext2D.prototype;
    CanvasRenderingContext2D.prototype.getImageData = function (...where) {
      const read = getImageData.apply(this, where);
      for (let i = 0; i < read.data.length; ++i) read.data[i] = Math.random() * 256;
      return read;
    };
  };
  const name = names.Korean;
  const visitor = await opened(name, places['on paper'], noise);
  const ours = await ourPicture(visitor.page, name);
  assert.ok(ours.columns.length > size, 'nothing is drawn');
  assert.notEqual(difference(ours, await theirPicture(visitor.page, name)), '');
  visitor.assertQuiet();
  await visitor.end();
});

test('a name of ten thousand letters is broken, drawn and does no harm', async () => {
  const pile = `h${'\u0331\u0e49'.repeat(5000)}`;
  for (const name of ['ก'.repeat(10000), '中'.repeat(10000), 'بس '.repeat(3000), pile]) {
    const visitor = await opened(name, places['on paper']);
    await settled(visitor.page);
    assert.ok(await visitor.page.evaluate(() => saltrafter._saltrafter_frames()) > 0);
    visitor.assertQuiet();
    await visitor.end();
  }
});
