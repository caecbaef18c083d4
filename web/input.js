// Fingers, mouse, keys and clipboard, the screen's size and the reader's wishes: what happens to the canvas, told
// to the program in CSS pixels and by the names that it knows.
import {ask, call, callWith, running} from './program.js';
import {frame, showTyping, wake} from './run.js';
import {activeField, onMirror, typedWords} from './mirror.js';

// In the order of parts::KeyPress.
const keys = ['Tab', 'Enter', ' ', 'Escape', 'ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End',
  'PageUp', 'PageDown', 'Backspace', 'Delete', 'select all', 'copy', 'cut', 'undo', 'redo'];
const largestRatio = 3;

const press = (name, shift = false) => call('key', keys.indexOf(name), shift ? 1 : 0);

function watchPointers(canvas) {
  const tell = (name, event) => {
    const box = canvas.getBoundingClientRect();
    const touch = event.pointerType === 'touch' ? 1 : 0;
    call(`pointer_${name}`, event.clientX - box.left, event.clientY - box.top, touch, event.pointerId);
    wake();
  };
  canvas.addEventListener('pointerdown', event => {
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    try {
      canvas.setPointerCapture(event.pointerId);
    } catch {
      // The finger is off already.
    }
    tell('down', event);
  });
  canvas.addEventListener('pointermove', event => {
    if (event.pointerType !== 'mouse' || event.buttons & 1) tell('move', event);
  });
  canvas.addEventListener('pointerup', event => {
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    tell('up', event);
    // Browsers open a keyboard or a file dialog only while the touch itself is being handled.
    frame();
    showTyping();
  });
  canvas.addEventListener('pointercancel', () => {
    call('pointer_cancel');
    wake();
  });
  // The focus stays where the mirror puts it; the canvas never takes it.
  canvas.addEventListener('mousedown', event => event.preventDefault());
  canvas.addEventListener('wheel', event => {
    if (event.ctrlKey) return;  // the browser's zoom
    event.preventDefault();
    const unit = [1, 20, canvas.clientHeight * 0.85][event.deltaMode] ?? 1;
    call('wheel', event.deltaY * unit);
    wake();
  }, {passive: false});
}

// The browser itself presses a button of the mirror, and ticks with the space bar.
function pressedByBrowser(key) {
  if (!onMirror()) return false;
  return key === ' ' || key === 'Enter' && document.activeElement.localName === 'button';
}

// Undo and redo by the keys of both worlds: Z, Shift and Z, Y.
function historyKey({key, shiftKey}) {
  const letter = key.toLowerCase();
  if (letter === 'z') return shiftKey ? 'redo' : 'undo';
  return letter === 'y' ? 'redo' : null;
}

// A key of a hardware keyboard. Keys of soft keyboards and of composed letters reach the field as text (mirror.js).
function onKey(event) {
  if (!running() || event.isComposing || event.keyCode === 229 || event.defaultPrevented) return;
  // Words are the browser's to edit, with its own keys; only the ways out of the field are ours.
  if (typedWords() && !['Enter', 'Escape'].includes(event.key)) return;
  const field = activeField();
  const command = event.ctrlKey || event.metaKey;
  const history = command && !event.altKey && historyKey(event);
  if (history) {
    press(history);
  } else if (command || event.altKey) {
    if (!command || event.altKey || !field || event.key.toLowerCase() !== 'a') {
      // AltGr writes letters; copy, cut and paste come as events of their own; the rest is the browser's.
      if (!(event.ctrlKey && event.altKey) || !field || event.key.length !== 1) return;
      callWith('text', event.key);
    } else {
      press('select all');
    }
  } else if (event.key === 'Tab') {
    return;  // the mirror's elements stand in reading order: the browser walks them, and out of the page too
  } else if (field && [...event.key].length === 1) {
    callWith('text', event.key);
  } else if (keys.includes(event.key)) {
    if (!field && pressedByBrowser(event.key)) return;
    press(event.key, event.shiftKey);
  } else {
    return;
  }
  event.preventDefault();
  wake();
}

function watchClipboard() {
  for (const name of ['copy', 'cut']) {
    document.addEventListener(name, event => {
      if (!activeField() || typedWords()) return;
      press(name);
      wake();
      frame();
      handCopied(event);
    });
  }
  document.addEventListener('paste', event => {
    if (!activeField() || typedWords()) return;
    event.preventDefault();
    // Nothing to read, or not allowed: what is selected stays.
    const text = event.clipboardData?.getData('text/plain');
    if (text) callWith('text', text);
    wake();
  });
}

function handCopied(event) {
  const text = ask('copied');
  if (!text) return;
  try {
    event.clipboardData.setData('text/plain', text);
  } catch {
    // Refused: what was cut goes back where it stood.
    if (event.type === 'cut') callWith('text', text);
    wake();
  }
  event.preventDefault();
}

function watchScreen(canvas) {
  const probe = document.getElementById('safe-area');
  const measure = () => {
    const ratio = Math.min(devicePixelRatio, largestRatio);
    const width = canvas.clientWidth;
    const height = canvas.clientHeight;
    const device = [Math.round(width * ratio), Math.round(height * ratio)];
    // Setting the size empties the canvas, even when it is the same.
    if (canvas.width !== device[0]) canvas.width = device[0];
    if (canvas.height !== device[1]) canvas.height = device[1];
    const safe = getComputedStyle(probe);
    const inset = side => parseFloat(safe[`padding${side}`]) || 0;
    call('display', width, height, ratio, inset('Left'), inset('Top'), inset('Right'), inset('Bottom'));
    call('wake');
    frame();
  };
  new ResizeObserver(measure).observe(canvas);
  // Zoom and a move to another screen change the ratio, not always with a resize.
  const watchRatio = () => matchMedia(`(resolution: ${devicePixelRatio}dppx)`).addEventListener('change', () => {
    measure();
    watchRatio();
  }, {once: true});
  watchRatio();
  measure();
}

function watchWish(query, name) {
  const wish = matchMedia(query);
  const tell = () => {
    call(name, wish.matches ? 1 : 0);
    wake();
  };
  wish.addEventListener('change', tell);
  tell();
}

export function watchInput(canvas) {
  watchWish('(prefers-color-scheme: dark)', 'theme');
  watchWish('(prefers-reduced-motion: reduce)', 'reduced_motion');
  watchPointers(canvas);
  document.addEventListener('keydown', onKey);
  watchClipboard();
  watchScreen(canvas);
}
