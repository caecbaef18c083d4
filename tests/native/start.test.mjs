// The desktop program's command line, its window and the book it keeps.
import assert from 'node:assert/strict';
import {execFileSync, spawn} from 'node:child_process';
import {existsSync, readdirSync, readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {display, passingFolder, program, run} from './desktop.mjs';

const sleep = ms => new Promise(done => setTimeout(done, ms));

test('a word that the program does not know is refused by name, in one line', async () => {
  for (const words of [['--nonsense'], ['--size', 'large'], ['--theme', 'pink'], ['--today', '2026-02-30'],
    ['--shots', 'x'], ['--report'], ['a', 'b']]) {
    const {code, stdout, stderr} = await run(words);
    assert.equal(code, 2, words.join(' '));
    assert.equal(stdout, '');
    assert.match(stderr, /^[^\n]+\.\n$/);
    assert.ok(stderr.includes(words[0]) || stderr.includes(words.at(-1)), stderr);
  }
});

test('--help lists the flags', async () => {
  const {code, stdout} = await run(['--help']);
  assert.equal(code, 0);
  for (const flag of ['--report', '--play', '--today', '--data', '--size', '--theme', '--shots',
    '--gallery']) {
    assert.ok(stdout.includes(flag), flag);
  }
});

test('without a display the program says so and does not hang', async () => {
  const {code, stderr} = await run([], {env: {DISPLAY: ':9999'}, timeout: 20000});
  assert.equal(code, 1);
  assert.match(stderr, /could not be opened/);
});

test('a file that is no journey, or is not there, is refused with its line', async t => {
  const folder = passingFolder(t);
  writeFileSync(join(folder, 'bad.txt'), '# one\npress widget "A"\n');
  const bad = await run(['--play', join(folder, 'bad.txt')]);
  assert.equal(bad.code, 2);
  assert.match(bad.stderr, /line 2/);
  const absent = await run(['--play', join(folder, 'absent.txt')]);
  assert.equal(absent.code, 2);
});

test('a step that finds nothing fails with its line', async t => {
  const folder = passingFolder(t);
  writeFileSync(join(folder, 'wrong.txt'), 'see heading "Recipes"\nsee heading "No such heading"\n');
  const {code, stderr} = await run(['--play', join(folder, 'wrong.txt')], {env: {DISPLAY: await display(t)}});
  assert.equal(code, 1);
  assert.match(stderr, /line 2/);
  assert.match(stderr, /No such heading/);
});

test('the window keeps its book in the folder named, and sleeps while nothing happens', async t => {
  const folder = passingFolder(t);
  const data = join(folder, 'deep', 'book');
  const env = {...process.env, DISPLAY: await display(t), WAYLAND_DISPLAY: '', SDL_VIDEODRIVER: 'x11'};
  const running = spawn(program, ['--data', data], {env, stdio: 'ignore'});
  t.after(() => running.kill('SIGKILL'));
  const exit = new Promise(done => running.on('exit', code => done(code)));
  const slots = () => existsSync(data) ? readdirSync(data).filter(name => /^[^.].*\.slot$/.test(name)) : [];
  for (let i = 0; i < 300 && slots().length === 0; ++i) await sleep(100);
  assert.ok(slots().length > 0, 'nothing was kept');
  assert.ok(slots().every(name => /^[a-z0-9%_-]+\.slot$/.test(name)), slots().join(' '));
  // How often the system has let one of its threads run, from the system's own figures: a frame, a timer and a
  // poll each count one, a thread that waits counts none.
  const wakes = () => readdirSync(`/proc/${running.pid}/task`).reduce((sum, thread) => {
    const status = readFileSync(`/proc/${running.pid}/task/${thread}/status`, 'latin1');
    return sum + [...status.matchAll(/^(?:non)?voluntary_ctxt_switches:\s+(\d+)$/gm)]
      .reduce((all, [, count]) => all + Number(count), 0);
  }, 0);
  await sleep(2000);
  assert.deepEqual(readdirSync(data).filter(name => name.startsWith('.')), [], 'a passing file was left');
  const before = wakes();
  assert.ok(before > 10);
  await sleep(5000);
  assert.equal(wakes() - before, 0, 'it does not sleep');
  // An event wakes it, and it sleeps again.
  execFileSync('xdotool', ['mousemove', '300', '300', 'click', '4'], {env});
  for (let i = 0; i < 50 && wakes() === before; ++i) await sleep(100);
  assert.ok(wakes() > before, 'it does not wake');
  running.kill('SIGTERM');
  assert.equal(await exit, 0);
});
