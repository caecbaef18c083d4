// The main job in the desktop program's window, with a picture of each step.
import assert from 'node:assert/strict';
import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {inflateSync} from 'node:zlib';
import {display, root, run, screensFolder} from './desktop.mjs';

const journey = join(root, 'tests/journeys/first_batch.txt');

// Size and number of colours of a PNG as the program writes it: one IDAT, each row less the one above.
function readPicture(path) {
  const bytes = readFileSync(path);
  const width = bytes.readUInt32BE(16);
  const height = bytes.readUInt32BE(20);
  const data = inflateSync(bytes.subarray(41, 41 + bytes.readUInt32BE(33)));
  const above = new Uint8Array(width * 3);
  const colours = new Set();
  for (let y = 0; y < height; ++y) {
    const row = data.subarray(y * (width * 3 + 1) + 1, (y + 1) * (width * 3 + 1));
    for (let x = 0; x < row.length; ++x) above[x] = above[x] + row[x];
    for (let x = 0; x < row.length; x += 3) colours.add(above[x] << 16 | above[x + 1] << 8 | above[x + 2]);
  }
  return {width, height, colours: colours.size};
}

for (const [name, theme, size] of [['wide', 'paper', '1240x800'], ['narrow', 'cellar', '390x844']]) {
  test(`the main job plays in a ${name} window`, async t => {
    const shots = screensFolder(name);
    const env = {DISPLAY: await display(t)};
    const {code, stdout, stderr} = await run(['--play', journey, '--shots', shots, '--size', size, '--theme', theme,
      '--today', '2026-11-25'], {env, timeout: 280000});
    assert.equal(code, 0, stderr);
    assert.match(stdout, /steps passed/);
    const pictures = readdirSync(shots).sort();
    assert.ok(pictures.length > 40, `${pictures.length} pictures`);
    for (const picture of [pictures[0], pictures.at(-1)]) {
      const read = readPicture(join(shots, picture));
      assert.equal(`${read.width}x${read.height}`, size);
      assert.ok(read.colours > 20, `${picture} is blank`);
    }
  });
}
