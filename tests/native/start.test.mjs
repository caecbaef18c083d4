// The desktop program's command line, its window and the book it keeps.
import assert from 'node:assert/strict';
import {spawn} from 'node:child_process';
import {existsSync, readdirSync, readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {display, passingFolder, program, run} from './desktop.mjs';

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
  for (const flag of ['--report', '--play', '--today', '--data', '--size', '--theme', '--shots']) {
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
  for (let i = 0; i < 300 && slots().length === 0; ++i) await new Promise(done => setTimeout(done, 100));
  assert.ok(slots().length > 0, 'nothing was kept');
  assert.ok(slots().every(name => /^[a-z0-9%_-]+\.slot$/.test(name)), slots().join(' '));
  // Ticks of the processor used since the start, from the system's own figures.
  const ticks = () => {
    const fields = readFileSync(`/proc/${running.pid}/stat`, 'latin1').split(') ')[1].split(' ');
    return Number(fields[11]) + Number(fields[12]);
  };
  await new Promise(done => setTimeout(done, 2000));
  assert.deepEqual(readdirSync(data).filter(name => name.startsWith('.')), [], 'a passing file was left');
  const before = ticks();
  await new Promise(done => setTimeout(done, 3000));
  assert.ok(ticks() - before <= 15, `${ticks() - before} ticks of 10 ms in 3 idle seconds`);
  running.kill('SIGTERM');
  assert.equal(await exit, 0);
});
