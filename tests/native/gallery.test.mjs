// Every part, photographed in both themes at three widths: for looking, and for what a program can see of it.
import assert from 'node:assert/strict';
import {readdirSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {display, readPicture, run, screensFolder} from './desktop.mjs';

// Colours of the two themes that a gallery scrolled through in full must show.
const inks = {
  paper: {ground: 0xF5EFE3, ink: 0x2B221B, soft: 0x66574A, rule: 0xD8CBB6, accent: 0x1C5A57, wash: 0xE4E6D8,
    'not met': 0x93300F, near: 0x7A5300},
  cellar: {ground: 0x181411, ink: 0xF0E7D8, soft: 0xB7A996, rule: 0x3B332B, accent: 0x8CCBBB, wash: 0x243430,
    'not met': 0xF2A183, near: 0xE5BC63},
};

for (const size of ['1440x900', '820x1180', '390x844']) {
  for (const [theme, wanted] of Object.entries(inks)) {
    test(`all parts are photographed, ${size}, ${theme}`, async t => {
      const folder = screensFolder('gallery', `${size}-${theme}`);
      const env = {DISPLAY: await display(t)};
      const {code, stderr} = await run(['--gallery', folder, '--size', size, '--theme', theme], {env});
      assert.equal(code, 0, stderr);
      const names = readdirSync(folder).sort();
      assert.ok(names.length >= 3, `${names.length} pictures of a page that is many screens long`);
      const seen = new Set();
      for (const name of names) {
        const {width, height, colours, sides} = readPicture(join(folder, name));
        assert.equal(`${width}x${height}`, size, name);
        assert.ok(colours.size > 20, `${name} is blank`);
        assert.ok(colours.get(wanted.ground) > 0.5 * width * height, `${name}: little of the ground is seen`);
        // Letters that run over a side would leave their ink in it; hairlines of the frame may touch it.
        for (const colour of sides.keys()) {
          assert.ok([wanted.ground, wanted.rule, wanted.accent].includes(colour),
            `${name}: #${colour.toString(16)} at a side`);
        }
        for (const colour of colours.keys()) seen.add(colour);
      }
      for (const [ink, colour] of Object.entries(wanted)) assert.ok(seen.has(colour), `no ${ink} anywhere`);
    });
  }
}

test('a folder that cannot be made is said', async () => {
  const {code, stderr} = await run(['--gallery', '/dev/null/pictures']);
  assert.equal(code, 1);
  assert.match(stderr, /could not be made/);
});
