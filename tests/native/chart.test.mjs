// A chart on the screen and the same chart as SVG show the same ink in the same places.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {dirname, join} from 'node:path';
import {test} from 'node:test';
import {display, program, screensFolder} from './desktop.mjs';

const near = 2;         // px: smoothing of edges and letters differs between the two hands
const mostAlone = 0.002;  // of the ink of one, how much may have none of the other near it

// Shades of grey of a PNG, 0 black to 255, laid on the size of the first.
function grey(path, size) {
  const words = [path, ...(size ? ['-crop', `${size.width}x${size.height}+0+0`, '+repage'] : []),
    '-colorspace', 'Gray', '-depth', '8'];
  const [width, height] = execFileSync('convert', [...words, '-format', '%w %h', 'info:'], {encoding: 'utf8'})
    .split(' ').map(Number);
  return {width, height, at: execFileSync('convert', [...words, 'gray:-'], {maxBuffer: 64 << 20})};
}

// Ink is what differs from the paper by more than the faintest line does, and how many there is of it.
function inkOf(picture, darker) {
  const ground = picture.at[0];
  return Uint8Array.from(picture.at, shade => Number(ground - shade > darker));
}

// Where one has ink and the other none near it, as a share of the ink.
function alone(one, other, {width, height}) {
  let ink = 0;
  let missing = 0;
  for (let y = 0; y < height; ++y) {
    for (let x = 0; x < width; ++x) {
      if (!one[y * width + x]) continue;
      ++ink;
      let found = false;
      for (let v = Math.max(0, y - near); v <= Math.min(height - 1, y + near) && !found; ++v) {
        for (let u = Math.max(0, x - near); u <= Math.min(width - 1, x + near) && !found; ++u) {
          found = other[v * width + u] === 1;
        }
      }
      if (!found) ++missing;
    }
  }
  return {ink, share: missing / ink};
}

for (const width of [390, 820, 1440]) {
  test(`charts ${width} px wide: canvas and SVG agree`, async t => {
    const folder = screensFolder(`charts-${width}`);
    const env = {...process.env, WAYLAND_DISPLAY: '', SDL_VIDEODRIVER: 'x11', LIBGL_ALWAYS_SOFTWARE: '1',
      DISPLAY: await display(t)};
    execFileSync(join(dirname(program), 'chart_pictures'), [folder, String(width)], {env, timeout: 60000});
    for (const nth of [1, 2]) {
      const base = join(folder, `chart-${nth}`);
      execFileSync('rsvg-convert', ['-d', '96', '-p', '96', `${base}.svg`, '-o', `${base}-svg.png`]);
      const seen = grey(`${base}.png`);
      const written = grey(`${base}-svg.png`, seen);
      assert.equal(written.width, seen.width);
      assert.equal(written.height, seen.height);
      // Lines and letters; then the faint ones too: hairlines and shaded areas.
      for (const darker of [100, 20]) {
        // A thin line between two pixels is half as dark on both.
        const lighter = 0.4 * darker;
        for (const [name, one, other] of [['on the canvas', seen, written],
          ['in the SVG', written, seen]]) {
          const {ink, share} = alone(inkOf(one, darker), inkOf(other, lighter), seen);
          assert.ok(ink > 500, `${ink} px of ink ${name}`);
          const said = `chart ${nth}, shade ${darker}: ${(100 * share).toFixed(3)} % of the ink only ${name}`;
          t.diagnostic(said);
          assert.ok(share <= mostAlone, said);
        }
      }
    }
  });
}
