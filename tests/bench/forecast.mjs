// One 60-day forecast natively and in WebAssembly, in turn, so that a busy machine slows both. Prints, asserts nothing.
//   node forecast.mjs NATIVE FORECAST.js
import {execFileSync} from 'node:child_process';

const [, , native, script] = process.argv;
const kTurns = 9;
const kArguments = ['time', '30', '6', '41'];
const run = (program, first) => Number(execFileSync(program, [...first, ...kArguments], {encoding: 'utf8'}));
const median = (values) => values.sort((a, b) => a - b)[Math.floor(values.length / 2)];
const native_ms = [];
const wasm_ms = [];
const ratios = [];
for (let i = 0; i < kTurns; ++i) {
  native_ms.push(run(native, []));
  wasm_ms.push(run(process.execPath, ['--no-experimental-fetch', script]));
  ratios.push(wasm_ms.at(-1) / native_ms.at(-1));
}
console.log(`60-day forecast, 30 cells, steps of 6 h, medians of ${kTurns} turns`);
console.log(`  native       ${median(native_ms).toFixed(3)} ms`);
console.log(`  WebAssembly  ${median(wasm_ms).toFixed(3)} ms, ratio ${median(ratios).toFixed(2)}`);
