// --report: every figure as JSON, or what is wrong with the file.
import assert from 'node:assert/strict';
import {readdirSync, readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {test} from 'node:test';
import {passingFolder, root, run} from './desktop.mjs';

const fixtures = join(root, 'tests/fixtures');
const good = readdirSync(fixtures).filter(name => name.endsWith('.saltrafter.json'));

test('each sample file has a report, the same each time', async () => {
  assert.ok(good.length > 0, 'there is no sample file');
  for (const name of good) {
    const words = ['--report', join(fixtures, name), '--today', '2026-11-25'];
    const first = await run(words);
    assert.equal(first.code, 0, `${name}: ${first.stdout}${first.stderr}`);
    const report = JSON.parse(first.stdout);
    assert.equal(report.format, 'saltrafter.report');
    assert.equal(report.today, '2026-11-25');
    assert.ok([...(report.recipes ?? []), ...(report.batches ?? [])].length > 0, name);
    const second = await run(words);
    assert.equal(second.stdout, first.stdout);
  }
});

test('a file that is no recipe and no book has a list of errors and exit 2', async t => {
  const folder = passingFolder(t);
  const sample = readFileSync(join(fixtures, good[0]), 'utf8');
  const bad = {
    'empty.json': '',
    'cut.json': sample.slice(0, sample.length / 2),
    'text.json': 'no JSON at all',
    'other.json': '{"format":"something else"}',
    'twice.json': sample.replace('"schema"', '"format": "x", "schema"'),
  };
  for (const [name, text] of Object.entries(bad)) {
    const path = join(folder, name);
    writeFileSync(path, text);
    const {code, stdout} = await run(['--report', path]);
    assert.equal(code, 2, name);
    assert.ok(JSON.parse(stdout).errors.length > 0, name);
  }
});

test('a file that cannot be read is named in one line, exit 2', async t => {
  const path = join(passingFolder(t), 'absent.json');
  const {code, stdout, stderr} = await run(['--report', path]);
  assert.equal(code, 2);
  assert.equal(stdout, '');
  assert.ok(stderr.startsWith(path) && stderr.trim().split('\n').length === 1, stderr);
});
