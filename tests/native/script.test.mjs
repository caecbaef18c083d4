// Any script: a name that our faces cannot set stands in the window as Pango sets it.
import assert from 'node:assert/strict';
import {execFileSync, spawn} from 'node:child_process';
import {readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {display, passingFolder, program, root} from './desktop.mjs';

const names = {Korean: '매운소시지와햄', Arabic: 'بسطرمة لحم البقر', Thai: 'ไส้กรอกอีสานน้ำปลา'};
const size = 34;  // of the heading, in core/desk/parts/type.h

// grey(FILE, WORDS...): a picture as bytes of darkness, with its size.
function grey(file, ...words) {
  const [width, height] = execFileSync('convert', [file, ...words, '+repage', '-format', '%w %h', 'info:'],
    {encoding: 'utf8'}).split(' ').map(Number);
  const bytes = ['-colorspace', 'gray', '-negate', '-depth', '8', 'gray:-'];
  const data = execFileSync('convert', [file, ...words, '+repage', ...bytes], {maxBuffer: 1 << 26});
  return {width, height, data};
}

// nearest(WHOLE, PART): how well the part goes with the place in the whole where it goes best, 1 at most.
function nearest(whole, part) {
  const n = part.width * part.height;
  const mean = part.data.reduce((sum, value) => sum + value, 0) / n;
  const own = Float64Array.from(part.data, value => value - mean);
  const norm = Math.sqrt(own.reduce((sum, value) => sum + value * value, 0));
  let best = 0;
  for (let y = 0; y + part.height <= whole.height; ++y) {
    for (let x = 0; x + part.width <= whole.width; ++x) {
      let [both, sum, squares] = [0, 0, 0];
      for (let j = 0; j < part.height; ++j) {
        const from = (y + j) * whole.width + x;
        for (let i = 0; i < part.width; ++i) {
          const value = whole.data[from + i];
          both += own[j * part.width + i] * value;
          sum += value;
          squares += value * value;
        }
      }
      best = Math.max(best, both / (norm * Math.sqrt(Math.max(1, squares - sum * sum / n))));
    }
  }
  return best;
}

for (const [language, name] of Object.entries(names)) {
  test(`a name in ${language} is drawn as Pango draws it`, async t => {
    const folder = passingFolder(t);
    const fixture = join(root, 'tests/fixtures/schema1.recipe.saltrafter.json');
    const file = JSON.parse(readFileSync(fixture, 'utf8'));
    file.recipe.name = name;
    const recipe = join(folder, 'gift.saltrafter.json');
    writeFileSync(recipe, JSON.stringify(file));
    const env = {...process.env, DISPLAY: await display(t), WAYLAND_DISPLAY: '', SDL_VIDEODRIVER: 'x11',
      LIBGL_ALWAYS_SOFTWARE: '1'};
    const look = ['--theme', 'paper', '--size', '900x700'];
    const running = spawn(program, ['--data', join(folder, 'book'), ...look, recipe], {env, stdio: 'ignore'});
    t.after(() => running.kill('SIGKILL'));
    // What Pango's own viewer makes of a text, cut to its ink.
    const theirs = text => {
      const out = join(folder, 'theirs.png');
      execFileSync('pango-view', ['--no-display', '--pixels', '--hinting=none', `--font=serif ${size}`,
        '--foreground=#2B221B', '--background=#F5EFE3', `--text=${text}`, '-o', out]);
      return grey(out, '-fuzz', '20%', '-trim');
    };
    const wanted = theirs(name);
    const shot = join(folder, 'ours.png');
    let [good, ours] = [0, null];
    for (let i = 0; i < 20 && good < 0.75; ++i) {
      await new Promise(done => setTimeout(done, 500));
      execFileSync('import', ['-window', 'root', shot], {env});
      ours = grey(shot, '-crop', '400x80+320+190');
      good = nearest(ours, wanted);
    }
    // Letters that are set one by one stand on whole pixels, those of Pango's line need not.
    assert.ok(good >= 0.75, `alike ${good.toFixed(3)}`);
    const boxes = nearest(ours, theirs('\ue000'.repeat([...name].length)));
    const turned = nearest(ours, theirs([...name].reverse().join('')));
    assert.ok(Math.max(boxes, turned) < good - 0.15, `right ${good}, boxes ${boxes}, turned ${turned}`);
  });
}
