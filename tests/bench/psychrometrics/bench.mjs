// The same states of moist air by our WebAssembly and by psychrolib, in turns in one process. Prints ratios.
import {createRequire} from 'node:module';
import {performance} from 'node:perf_hooks';

const require = createRequire(import.meta.url);
const psychrolib = createRequire(new URL('../../reference/air/', import.meta.url))('psychrolib');
psychrolib.SetUnitSystem(psychrolib.SI);
const ours = await require(process.argv[2])();

const temperatures = 101;
const humidities = 100;
const pressure = 101325;
const states = temperatures * humidities;

function overGrid(state) {
  let sum = 0;
  for (let i = 0; i < temperatures; i++) {
    for (let k = 1; k <= humidities; k++) sum += state(-40 + 100 * i / (temperatures - 1), k / humidities);
  }
  return sum;
}

// Humidity ratio, wet bulb, dew point, vapour pressure, enthalpy (J/kg there), volume, degree of saturation.
function theirs(t, rh) {
  const [water, wet, dew, vapour, enthalpy, volume, saturation] = psychrolib.CalcPsychrometricsFromRelHum(t, rh, pressure);
  return water + wet + dew + vapour + enthalpy / 1000 + volume + saturation;
}

const ways = {
  'psychrolib': () => overGrid(theirs),
  'WebAssembly, one call a state': () => overGrid((t, rh) => ours._one_state(t, rh, pressure)),
  'WebAssembly, one call for all': () => ours._all_states(temperatures, humidities, pressure),
};

const rounds = 15;
const times = Object.fromEntries(Object.keys(ways).map((name) => [name, []]));
const sums = {};
for (let round = 0; round < rounds + 2; round++) {  // two to warm up
  for (const [name, run] of Object.entries(ways)) {
    const began = performance.now();
    sums[name] = run();
    if (round >= 2) times[name].push(performance.now() - began);
  }
}

const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
const base = median(times.psychrolib);
console.log(`${states} states (water, wet bulb, dew point, vapour, enthalpy, volume, saturation), median of ${rounds}`);
for (const name of Object.keys(ways)) {
  const ms = median(times[name]);
  console.log(`${name.padEnd(30)} ${(ms * 1000 / states).toFixed(2)} us a state, ` +
    `${(base / ms).toFixed(2)} times psychrolib's speed, sum off by ${Math.abs(sums[name] / sums.psychrolib - 1).toExponential(1)}`);
}
