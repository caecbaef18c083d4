// The states of the native program computed again by psychrolib, an independent library of the same handbook.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {existsSync} from 'node:fs';
import {createRequire} from 'node:module';
import {join} from 'node:path';
import {test} from 'node:test';
import {fileURLToPath} from 'node:url';

const root = fileURLToPath(new URL('../../../', import.meta.url));
const program = process.env.SALTRAFTER_AIR_STATES ?? join(root, 'build/native/air_states');
const psychrolib = createRequire(import.meta.url)('psychrolib');
psychrolib.SetUnitSystem(psychrolib.SI);

assert.ok(existsSync(program), `${program} is missing: build the target air_states.`);
const [names, ...lines] = execFileSync(program, {encoding: 'utf8'}).trim().split('\n').map((line) => line.split(','));
const states = lines.map((cells) => Object.fromEntries(cells.map((cell, i) => [names[i], Number(cell)])));

// The largest difference of ours to theirs over all states; `share` takes it relative to theirs.
function worst(ours, theirs, {share = false} = {}) {
  let largest = 0;
  let where = states[0];
  for (const state of states) {
    const expected = theirs(state);
    const difference = Math.abs(state[ours] - expected) / (share ? Math.abs(expected) : 1);
    assert.ok(Number.isFinite(difference), `${ours} at ${JSON.stringify(state)}`);
    if (difference > largest) [largest, where] = [difference, state];
  }
  return {largest, text: `${ours}: ${largest.toExponential(1)} at ${where.t_c} C, ${where.rh}, ${where.p_pa} Pa`};
}

function agrees(name, tolerance, ours, theirs, options) {
  test(name, (t) => {
    const found = worst(ours, theirs, options);
    t.diagnostic(`${states.length} states, ${found.text}`);
    assert.ok(found.largest <= tolerance, found.text);
  });
}

test('at least 200 states are compared', () => assert.ok(states.length >= 200, `${states.length} states`));

agrees('dew point within 0.01 K', 0.01, 'dew_c', (s) => psychrolib.GetTDewPointFromRelHum(s.t_c, s.rh));
agrees('wet bulb within 0.02 K', 0.02, 'wet_c', (s) => psychrolib.GetTWetBulbFromRelHum(s.t_c, s.rh, s.p_pa));
agrees('humidity ratio within 1e-6', 1e-6, 'water', (s) => psychrolib.GetHumRatioFromRelHum(s.t_c, s.rh, s.p_pa));
agrees('humidity ratio back from the wet bulb within 1e-6', 1e-6, 'wet_again_water',
  (s) => psychrolib.GetHumRatioFromTWetBulb(s.t_c, s.wet_c, s.p_pa));
agrees('enthalpy within 0.003 kJ/kg', 0.003, 'enthalpy_kj',
  (s) => psychrolib.GetMoistAirEnthalpy(s.t_c, psychrolib.GetHumRatioFromRelHum(s.t_c, s.rh, s.p_pa)) / 1000);
agrees('specific volume within 1e-6 of itself', 1e-6, 'volume_m3',
  (s) => psychrolib.GetMoistAirVolume(s.t_c, psychrolib.GetHumRatioFromRelHum(s.t_c, s.rh, s.p_pa), s.p_pa), {share: true});
agrees('vapour pressure within 1e-6 of itself', 1e-6, 'vapour_pa',
  (s) => psychrolib.GetVapPresFromRelHum(s.t_c, s.rh), {share: true});
agrees('deficit within 0.01 Pa', 0.01, 'deficit_pa', (s) => psychrolib.GetSatVapPres(s.t_c) * (1 - s.rh));
