// The program's doors as plain functions: texts go in and come out, and a trap ends everything, once, in words.
import {rescue} from './rescue.js';

const encoder = new TextEncoder();
let module = null;
let ended = false;

// use(MODULE): the started WebAssembly module.
export function use(started) { module = started; }
export const running = () => module !== null && !ended;

// end(ERROR): the program can no longer be trusted; what it has saved can still be had.
export function end(error) {
  if (ended) return;
  ended = true;
  console.error(error);
  rescue('The program has stopped. What was saved is safe on this device; open the page again to go on.',
    error && error.message);
}

// put(TEXT): leaves a text where the next call takes it; gives its length in bytes.
export function put(text, into = module) {
  const bytes = encoder.encode(text);
  const room = into._saltrafter_room(bytes.length);
  into.HEAPU8.set(bytes, room);
  return bytes.length;
}

// call(NAME, NUMBERS...): one door; nothing happens before the start and after the end.
export function call(name, ...numbers) {
  if (!running()) return 0;
  try {
    return module[`_saltrafter_${name}`](...numbers);
  } catch (error) {
    end(error);
    return 0;
  }
}

// Doors that take a text, and doors that answer with one.
export function callWith(name, text, ...numbers) {
  return running() ? call(name, ...numbers, put(text)) : 0;
}
export function ask(name) {
  if (!running()) return '';
  module.answer = '';
  call(name);
  return module.answer;
}
