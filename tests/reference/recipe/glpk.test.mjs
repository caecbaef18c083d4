// The blends of the native program solved again by GLPK, an independent solver of linear programs.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {existsSync} from 'node:fs';
import {createRequire} from 'node:module';
import {join} from 'node:path';
import {test} from 'node:test';
import {fileURLToPath} from 'node:url';

const root = fileURLToPath(new URL('../../../', import.meta.url));
const program = process.env.SALTRAFTER_BLEND_CASES ?? join(root, 'build/native/blend_cases');
const glpk = createRequire(import.meta.url)('glpk.js')();
const tolerance = 1e-6;

assert.ok(existsSync(program), `${program} is missing: build the target blend_cases.`);
const printed = execFileSync(program, {encoding: 'utf8', maxBuffer: 1e8});
const cases = printed.trim().split('\n').map((line) => JSON.parse(line));
const met = cases.filter((c) => c.shares);
const unmet = cases.filter((c) => !c.shares);

// Least `cost` ({column: factor}) under `rows` ([{column: factor}, low, high]); columns are not negative.
// null where the rows cannot be met.
function solve(cost, rows) {
  const vars = (of) => Object.entries(of).map(([name, coef]) => ({name, coef}));
  const bounds = (low, high) => {
    if (low === high) return {type: glpk.GLP_FX, lb: low, ub: low};
    if (low === -Infinity) return {type: glpk.GLP_UP, ub: high, lb: 0};
    if (high === Infinity) return {type: glpk.GLP_LO, lb: low, ub: 0};
    return {type: glpk.GLP_DB, lb: low, ub: high};
  };
  const {result} = glpk.solve({
    name: 'blend',
    objective: {direction: glpk.GLP_MIN, name: 'cost', vars: vars(cost)},
    subjectTo: rows.map(([of, low, high], i) => ({name: `row${i}`, vars: vars(of), bnds: bounds(low, high)})),
  }, {msglev: glpk.GLP_MSG_OFF, presol: false});
  if (result.status === glpk.GLP_OPT) return {cost: result.z, values: result.vars};
  const unmet = [glpk.GLP_NOFEAS, glpk.GLP_INFEAS, glpk.GLP_UNDEF];
  assert.ok(unmet.includes(result.status), `status ${result.status}`);
  return null;
}

const of = (c, figure) => Object.fromEntries(c.cuts.map((cut, i) => [`x${i}`, figure(cut)]));
const sum = (c, values, figure) =>
  c.cuts.reduce((total, cut, i) => total + (values[`x${i}`] ?? values[i]) * figure(cut), 0);
const fat = (cut) => cut.fat;
const price = (cut) => cut.price;
const waterAbove = (ratio) => (cut) => cut.water - ratio * cut.protein;
const ratioOf = (c, values) => sum(c, values, (cut) => cut.water) / sum(c, values, (cut) => cut.protein);

// Every wish as [name, rows], rows with the side on which they give way.
function wishes(c) {
  const out = [];
  if (c.fat) out.push(['fat', [[of(c, fat), c.fat[0], Infinity], [of(c, fat), -Infinity, c.fat[1]]]]);
  if (c.ratio) {
    out.push(['moisture_protein_ratio',
      [[of(c, waterAbove(c.ratio[0])), 0, Infinity], [of(c, waterAbove(c.ratio[1])), -Infinity, 0]]]);
  }
  if (c.price !== undefined) out.push(['price', [[of(c, price), -Infinity, c.price]]]);
  c.cuts.forEach((cut, i) => {
    const share = {[`x${i}`]: 1};
    out.push([cut.key, [[share, cut.least, Infinity], [share, -Infinity, cut.most]]]);
  });
  return out;
}

const whole = (c) => [of(c, () => 1), 1, 1];
const rowsBut = (c, name) =>
  [whole(c), ...wishes(c).filter(([other]) => other !== name).flatMap(([, rows]) => rows)];
const nothing = (c) => of(c, () => 0);

// The least or the most of water to protein under rows, by Dinkelbach's steps; ours takes another road.
function extremeRatio(c, rows, sign) {
  let ratio = 0;
  for (let turn = 0; turn < 60; turn++) {
    const found = solve(of(c, (cut) => sign * waterAbove(ratio)(cut)), rows);
    if (!found) return null;
    const next = ratioOf(c, found.values);
    if (Math.abs(next - ratio) < 1e-12) break;
    ratio = next;
  }
  return ratio;
}

// By how much a wish alone must give way; null where that does not help.
function leastGivingWay(c, [name, rows]) {
  const others = rowsBut(c, name);
  if (name === 'moisture_protein_ratio') {
    const least = extremeRatio(c, others, 1);
    if (least === null) return null;
    return Math.max(0, least - c.ratio[1], c.ratio[0] - extremeRatio(c, others, -1));
  }
  const given = rows.map(([factors, low, high]) => [{...factors, by: high === Infinity ? 1 : -1}, low, high]);
  return solve({...nothing(c), by: 1}, [...others, ...given])?.cost ?? null;
}

const bestRows = (c) => (c.aim === 'least_cost' ? rowsBut(c) :
  [...rowsBut(c), [{...of(c, fat), over: -1, under: 1}, c.fat_aim, c.fat_aim]]);
const best = (c) =>
  solve(c.aim === 'least_cost' ? of(c, price) : {...nothing(c), over: 1, under: 1}, bestRows(c));
const ourCost = (c) =>
  (c.aim === 'least_cost' ? sum(c, c.shares, price) : Math.abs(sum(c, c.shares, fat) - c.fat_aim));

test('at least 200 cases are compared, a quarter of them met and a quarter not', () => {
  assert.ok(cases.length >= 200, `${cases.length} cases`);
  assert.ok(met.length >= cases.length / 4, `${met.length} met`);
  assert.ok(unmet.length >= cases.length / 4, `${unmet.length} not met`);
});

test('what can be met is the same', (t) => {
  t.diagnostic(`${met.length} of ${cases.length} can be met`);
  cases.forEach((c, i) => assert.equal(best(c) !== null, Boolean(c.shares), `case ${i}`));
});

test('our blends keep every wish within 1e-6 and are as good as the best within 1e-6', (t) => {
  let worst = 0;
  met.forEach((c, i) => {
    for (const [factors, low, high] of rowsBut(c)) {
      let value = 0;
      for (const [name, factor] of Object.entries(factors)) value += factor * c.shares[Number(name.slice(1))];
      assert.ok(value >= low - tolerance && value <= high + tolerance, `met ${i}: ${low} ${value} ${high}`);
    }
    worst = Math.max(worst, Math.abs(ourCost(c) - best(c).cost));
  });
  t.diagnostic(`largest difference ${worst.toExponential(1)}`);
  assert.ok(worst <= tolerance, `${worst}`);
});

test('among the best blends ours is the one nearest to equal shares within 1e-6', (t) => {
  let worst = 0;
  met.forEach((c) => {
    const equal = 1 / c.cuts.length;
    const rows = bestRows(c);
    const cost = c.aim === 'least_cost' ? of(c, price) : {over: 1, under: 1};
    rows.push([cost, -Infinity, best(c).cost]);
    const spread = {...nothing(c), over: 0, under: 0};
    c.cuts.forEach((cut, i) => {
      rows.push([{[`x${i}`]: 1, [`more${i}`]: -1, [`less${i}`]: 1}, equal, equal]);
      spread[`more${i}`] = 1;
      spread[`less${i}`] = 1;
    });
    if (c.aim === 'least_cost') {
      delete spread.over;
      delete spread.under;
    }
    const ours = c.shares.reduce((total, share) => total + Math.abs(share - equal), 0);
    const theirs = solve(spread, rows);
    worst = Math.max(worst, Math.abs(ours - theirs.cost));
  });
  t.diagnostic(`largest difference ${worst.toExponential(1)}`);
  assert.ok(worst <= tolerance, `${worst}`);
});

test('each wish that could give way alone is named, with the least by which, within 1e-6', (t) => {
  let worst = 0;
  let named = 0;
  unmet.forEach((c, i) => {
    const each = wishes(c).map((wish) => [wish[0], leastGivingWay(c, wish)]);
    const theirs = new Map(each.filter(([, by]) => by !== null));
    if (c.together) {
      assert.equal(theirs.size, 0, `not met ${i}: ${[...theirs.keys()]}`);
      return;
    }
    assert.deepEqual(Object.keys(c.conflicts).sort(), [...theirs.keys()].sort(), `not met ${i}`);
    for (const [name, by] of theirs) {
      named++;
      worst = Math.max(worst, Math.abs(c.conflicts[name] - by));
    }
  });
  t.diagnostic(`${named} wishes named, largest difference ${worst.toExponential(1)}`);
  assert.ok(named >= 100, `${named}`);
  assert.ok(worst <= tolerance, `${worst}`);
});

test('wishes that must give way together do: with that much given, GLPK finds a blend', (t) => {
  const together = unmet.filter((c) => c.together);
  t.diagnostic(`${together.length} of ${unmet.length}`);
  assert.ok(together.length > 0);
  together.forEach((c, i) => {
    assert.ok(Object.keys(c.conflicts).length > 1, `together ${i}`);
    const given = (name) => (c.conflicts[name] ?? 0) + 1e-7;
    const widened = (bounds, name) => bounds && [bounds[0] - given(name), bounds[1] + given(name)];
    const wider = {
      ...c,
      fat: widened(c.fat, 'fat'),
      ratio: widened(c.ratio, 'moisture_protein_ratio'),
      price: c.price === undefined ? undefined : c.price + given('price'),
      cuts: c.cuts.map((cut) => {
        const by = given(cut.key);
        return {...cut, least: cut.least - by, most: cut.most + by};
      }),
    };
    assert.ok(solve(nothing(wider), rowsBut(wider)), `together ${i}`);
  });
});
