// When the program draws and works: a frame only when one is wanted, work after it and from one timer, also in
// a hidden tab. At rest nothing runs: the one timer waits for midnight, or for a store to be asked again.
//
// Whatever can change what the screen says, an input, an answer, a wish of the reader's, ends in wake().
import {ask, call, callWith, running} from './program.js';
import {patch} from './mirror.js';

let asked = 0;        // the animation frame that is under way
let timer = 0;
let posted = false;   // a message that calls for work is under way
let patched = -1;     // the mirror's version that stands in the page
let patchedAt = 0;
const mirrorEveryMs = 100;

// Timers that follow each other are slowed down by browsers, messages are not.
const channel = new MessageChannel();
channel.port1.onmessage = work;

function work() {
  posted = false;
  const wait = call('work');
  if (call('wants_frame')) soon();
  again(wait);
}

// again(MS): work after so long, in place of the wish before; work itself knows when it is due.
function again(wait) {
  if (!running() || posted) return;
  clearTimeout(timer);
  if (wait > 0) {
    timer = setTimeout(work, wait);
    return;
  }
  posted = true;
  channel.port2.postMessage(0);
}

// The address names what is open, and what the maker opens is a step that the browser's Back takes back.
let shown = '';  // the program's address as it stands in the bar
function showAddress() {
  const address = ask('address');
  if (!address || address === shown) return;
  if (shown && location.hash !== `#${address}`) history.pushState(null, '', `#${address}`);
  else history.replaceState(null, '', `#${address}`);
  shown = address;
}

// Goes where the bar says. An address that names nothing is put right, and makes no step.
function followAddress() {
  callWith('go_to', location.hash.slice(1));
  shown = ask('address');
  if (location.hash !== `#${shown}`) history.replaceState(null, '', `#${shown}`);
  wake();
}

function showMirror(settled) {
  const version = call('mirror_version');
  if (version === patched) return;
  // A field that is being typed in is only caught up with when all has settled.
  patched = settled ? version : -1;
  patchedAt = performance.now();
  patch(ask('mirror'), settled);
  showAddress();
}

// What the browser colours by itself follows the screens: its own bar, scroll bars, fields.
let themed = '';
function showTheme() {
  const theme = call('dark') ? 'cellar' : 'paper';
  if (theme === themed) return;
  themed = theme;
  document.documentElement.dataset.theme = theme;
  const ground = getComputedStyle(document.documentElement).getPropertyValue('--paper').trim();
  for (const meta of document.querySelectorAll('meta[name=theme-color]')) meta.content = ground;
}

// frame(): draws now. Also from inside an input's own event, where the browser grants more.
export function frame() {
  if (asked) cancelAnimationFrame(asked);
  asked = 0;
  const more = call('draw', performance.now() / 1000);
  // A field that lies over the canvas moves with it; the others may follow a little later.
  if (!more || call('typing') === 2 || performance.now() - patchedAt >= mirrorEveryMs) showMirror(!more);
  showTheme();
  // What the frame has edited is saved at once, and what it asked for is computed.
  again(0);
  if (more) soon();
}

// showTyping(): a field that was touched gets the browser's focus at once: from inside the touch's own event a
// keyboard opens, later it would not, and letters that follow the touch closely are not lost.
export function showTyping() {
  if (call('typing')) showMirror(true);
}

// A frame at the browser's next convenience.
function soon() {
  if (!asked && running()) asked = requestAnimationFrame(frame);
}

// wake(): something came in. Hidden pages get no frames, so work does not wait for one.
export function wake() {
  soon();
  again(0);
}

// redraw(): the picture itself may be gone, though nothing in it has changed.
export function redraw() {
  call('wake');
  wake();
}

// Before the page may be gone: what was entered is in the stores' hands.
function flush() {
  frame();
  call('work');
}

export function begin() {
  document.addEventListener('visibilitychange',
    () => document.visibilityState === 'hidden' ? flush() : redraw());
  addEventListener('pagehide', flush);
  addEventListener('hashchange', followAddress);
  if (location.hash) followAddress();
  frame();
}
