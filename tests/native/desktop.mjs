// The desktop program under a display of its own, for its tests.
import {execFile, spawn} from 'node:child_process';
import {mkdirSync, mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join, resolve} from 'node:path';
import {fileURLToPath} from 'node:url';
import {inflateSync} from 'node:zlib';

export const root = resolve(fileURLToPath(new URL('../..', import.meta.url)));
export const program = process.env.SALTRAFTER_PROGRAM ?? join(root, 'build/native/saltrafter');

export const screens = process.env.SALTRAFTER_SCREENS ?? join(root, 'build/screens');

// An empty folder for pictures, kept after the tests.
export function screensFolder(...names) {
  const folder = join(screens, ...names);
  rmSync(folder, {recursive: true, force: true});
  mkdirSync(folder, {recursive: true});
  return folder;
}

// A PNG as the program writes it, one IDAT, each row less the one above: its size, and how often each colour,
// 0xRRGGBB, is in it; also in the columns of one pixel at its sides.
export function readPicture(path) {
  const bytes = readFileSync(path);
  const width = bytes.readUInt32BE(16);
  const height = bytes.readUInt32BE(20);
  const data = inflateSync(bytes.subarray(41, 41 + bytes.readUInt32BE(33)));
  const above = new Uint8Array(width * 3);
  const colours = new Map();
  const sides = new Map();
  const count = (map, colour) => map.set(colour, (map.get(colour) ?? 0) + 1);
  for (let y = 0; y < height; ++y) {
    const row = data.subarray(y * (width * 3 + 1) + 1, (y + 1) * (width * 3 + 1));
    for (let x = 0; x < row.length; ++x) above[x] = above[x] + row[x];
    for (let x = 0; x < row.length; x += 3) {
      const colour = above[x] << 16 | above[x + 1] << 8 | above[x + 2];
      count(colours, colour);
      if (x === 0 || x === row.length - 3) count(sides, colour);
    }
  }
  return {width, height, colours, sides};
}

export function passingFolder(t) {
  const folder = mkdtempSync(join(tmpdir(), 'saltrafter-test-'));
  t.after(() => rmSync(folder, {recursive: true, force: true}));
  return folder;
}

// Starts Xvfb on the first free display and gives its name; it ends with the test.
export async function display(t) {
  const server = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '1500x1000x24', '-nolisten', 'tcp'],
    {stdio: ['ignore', 'ignore', 'ignore', 'pipe']});
  t.after(() => server.kill());
  const number = await new Promise((found, failed) => {
    let said = '';
    server.on('error', failed);
    server.on('exit', code => failed(new Error(`Xvfb ended (${code})`)));
    server.stdio[3].on('data', data => {
      said += data;
      if (said.includes('\n')) found(said.trim());
    });
  });
  return `:${number}`;
}

// Runs the program to its end: {code, stdout, stderr}. Nothing of the user's own is read or written.
export function run(words, {env = {}, timeout = 300000} = {}) {
  const all = {...process.env, WAYLAND_DISPLAY: '', SDL_VIDEODRIVER: 'x11', LIBGL_ALWAYS_SOFTWARE: '1', ...env};
  return new Promise(done => {
    execFile(program, words, {env: all, timeout, maxBuffer: 64 << 20}, (error, stdout, stderr) =>
      done({code: error ? error.code ?? error.signal : 0, stdout, stderr}));
  });
}
