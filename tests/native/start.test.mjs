// The desktop program opens its window under a display of its own and draws.
import assert from 'node:assert/strict';
import {execFile} from 'node:child_process';
import {mkdirSync, readFileSync} from 'node:fs';
import {join, resolve} from 'node:path';
import {test} from 'node:test';
import {fileURLToPath} from 'node:url';
import {promisify} from 'node:util';

const run = promisify(execFile);
const root = resolve(fileURLToPath(new URL('../..', import.meta.url)));
const program = process.env.SALTRAFTER_PROGRAM ?? join(root, 'build/native/saltrafter');
const screens = process.env.SALTRAFTER_SCREENS ?? join(root, 'build/screens');

// A PPM as the program writes it: size and how many colours.
function readPicture(path) {
  const bytes = readFileSync(path);
  const [, width, height] = /^P6\n(\d+) (\d+)\n255\n/.exec(bytes.subarray(0, 40).toString('latin1'));
  const pixels = bytes.subarray(bytes.length - width * height * 3);
  const colours = new Set();
  for (let at = 0; at < pixels.length; at += 3) colours.add(pixels.readUIntBE(at, 3));
  return {width: Number(width), height: Number(height), colours: colours.size};
}

test('the desktop program opens its window and draws in it', async () => {
  mkdirSync(screens, {recursive: true});
  const path = join(screens, 'desktop-start.ppm');
  await run('xvfb-run', ['-a', '-s', '-screen 0 1400x900x24', program, '--picture', path], {timeout: 60000});
  const picture = readPicture(path);
  assert.ok(picture.width >= 1000 && picture.height >= 600, `${picture.width} x ${picture.height}`);
  assert.ok(picture.colours > 8, 'the window is blank');
  await run('convert', [path, path.replace('.ppm', '.png')]);
});

test('a word that the program does not know is refused by name', async () => {
  await assert.rejects(run(program, ['--nonsense']),
    error => error.code === 2 && /--nonsense/.test(error.stderr));
});

test('without a display the program says so and does not hang', async () => {
  const env = {...process.env, DISPLAY: ':9999', WAYLAND_DISPLAY: '', SDL_VIDEODRIVER: 'x11'};
  await assert.rejects(run(program, [], {env, timeout: 20000}),
    error => error.code === 1 && /could not be opened/.test(error.stderr));
});
