// The desktop program under a display of its own, for its tests.
import {execFile, spawn} from 'node:child_process';
import {mkdirSync, mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join, resolve} from 'node:path';
import {fileURLToPath} from 'node:url';

export const root = resolve(fileURLToPath(new URL('../..', import.meta.url)));
export const program = process.env.SALTRAFTER_PROGRAM ?? join(root, 'build/native/saltrafter');

const screens = process.env.SALTRAFTER_SCREENS ?? join(root, 'build/screens');

// An empty folder for pictures, kept after the tests.
export function screensFolder(name) {
  const folder = join(screens, 'native', name);
  rmSync(folder, {recursive: true, force: true});
  mkdirSync(folder, {recursive: true});
  return folder;
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
