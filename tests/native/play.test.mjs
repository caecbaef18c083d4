// The main job and the Shelf in the desktop program's window, with a picture of each step.
import assert from 'node:assert/strict';
import {readdirSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {display, readPicture, root, run, screensFolder} from './desktop.mjs';

const journeys = {first_batch: 'the main job', tables: 'the Shelf',
  formulation: 'a recipe from its packet to a batch', drying: 'pieces while they dry'};

for (const [name, theme, size, story] of [
  ['wide', 'paper', '1240x800', 'first_batch'], ['narrow', 'cellar', '390x844', 'first_batch'],
  ['tables-wide', 'cellar', '1240x800', 'tables'], ['tables-narrow', 'paper', '390x844', 'tables'],
  ['formulation-wide', 'paper', '1440x900', 'formulation'], ['formulation-narrow', 'cellar', '390x844', 'formulation'],
  ['drying-wide', 'cellar', '1440x900', 'drying'], ['drying-narrow', 'paper', '390x844', 'drying']]) {
  test(`${journeys[story]} plays in a window, ${name}`, async t => {
    const journey = join(root, `tests/journeys/${story}.txt`);
    const shots = screensFolder('native', name);
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
      assert.ok(read.colours.size > 20, `${picture} is blank`);
    }
  });
}
