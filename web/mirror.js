// What stands on the canvas, again as real elements: for assistive software, for the keyboard, for a soft keyboard's
// letters and for tests. They lie unseen over what they stand for and let every touch through to the canvas.
//
// The program's nodes are the one source. Elements are patched by the nodes' ids and never built anew, so that the
// focus and a reader's place survive. Places stand in a navigation, everything else in one main part; rows
// that follow each other are a list.
import {call, callWith} from './program.js';
import {wake} from './run.js';

const fields = ['id', 'role', 'name', 'value', 'note', 'x', 'y', 'width', 'height', 'state', 'level', 'min', 'max',
  'now'];
const marks = {part: '\x1f', line: '\x1e'};

const live = ['status', 'alert'];
const speakAfterMs = 60;

const container = document.getElementById('mirror');
const elements = new Map();  // by key
const items = new Map();     // row's element -> its list item
const lists = new Map();     // first row's element -> the list
const fresh = new Set();     // live regions that are there, and say nothing yet
let regions = 0;             // made so far
const nodes = new WeakMap();  // element -> node
let following = false;       // the focus moves because the program's did
let composing = false;

// nodeOf(ELEMENT): the node that it stands for.
export const nodeOf = element => nodes.get(element);

// activeField(): the field that has the focus, if one has.
export function activeField() {
  const here = document.activeElement;
  return here instanceof HTMLInputElement && here.type === 'text' && nodes.has(here) ? here : null;
}

// onMirror(): the focus is on an element of it.
export const onMirror = () => nodes.has(document.activeElement);

function read(text) {
  const seen = new Map();
  return text.split(marks.line).slice(0, -1).map(line => {
    const parts = line.split(marks.part);
    const node = Object.fromEntries(fields.map((name, i) => [name, parts[i]]));
    node.has = letter => node.state.includes(letter);
    // Texts have no id of their own: the nth of its role keeps its element.
    const base = node.id === '0' ? `0 ${node.role} ${node.level}` : `${node.id} ${node.role}`;
    const count = seen.get(base) ?? 0;
    seen.set(base, count + 1);
    node.key = `${base} ${count}`;
    if (live.includes(node.role)) node.key = '';  // given out by their words, see voices()
    return node;
  });
}

// A live region is said when its words change, so what is said already keeps its element, wherever it stands
// now; new words go into one whose words are gone, and only then into a new one.
function voices(all) {
  for (const role of live) {
    const free = new Map([...elements].filter(([, element]) => element.dataset.role === role));
    const open = all.filter(node => node.role === role);
    const give = (node, key) => {
      node.key = key;
      free.delete(key);
    };
    for (const node of open) {
      const same = [...free].find(([, element]) => nodes.get(element).name === node.name);
      if (same) give(node, same[0]);
    }
    for (const node of open.filter(left => !left.key)) {
      const [key] = free.keys();
      give(node, key ?? `${role} ${++regions}`);
    }
  }
}

// Readers say what changes in a live region, not what it is born with: it gets its words a moment later.
function speakSoon(element) {
  fresh.add(element);
  setTimeout(() => {
    fresh.delete(element);
    if (nodes.has(element)) element.textContent = wordsOf(nodes.get(element));
  }, speakAfterMs);
}

const wordsOf = node => [node.name, node.value].filter(Boolean).join(', ');

const both = id => {
  const hex = id.padStart(16, '0');
  return [parseInt(hex.slice(0, 8), 16), parseInt(hex.slice(8), 16)];
};

function act(name, element) {
  call(name, ...both(nodes.get(element).id));
  wake();
}

function leave() {
  call('leave');
  wake();
}

const make = (tag, role) => {
  const element = document.createElement(tag);
  if (role) element.setAttribute('role', role);
  return element;
};

function makeButton(role) {
  const element = make('button', role);
  element.type = 'button';
  element.addEventListener('click', () => act('activate', element));
  return element;
}

function makeTick(type) {
  const element = make('input');
  element.type = type;
  // Whether it is ticked is the program's to say.
  element.addEventListener('click', event => {
    event.preventDefault();
    act('activate', element);
  });
  return element;
}

function makeField(role) {
  const element = make('input', role);
  element.type = 'text';
  element.autocomplete = 'off';
  element.autocapitalize = 'off';
  element.spellcheck = false;
  const fill = () => {
    callWith('fill', element.value, ...both(nodes.get(element).id));
    wake();
  };
  element.addEventListener('compositionstart', () => { composing = true; });
  element.addEventListener('compositionend', () => { composing = false; fill(); });
  element.addEventListener('input', () => { if (!composing) fill(); });
  return element;
}

// A chart that is read day by day: the arrow keys reach the program as everywhere (input.js).
function makeSteered() {
  const element = make('div', 'slider');
  element.tabIndex = 0;
  return element;
}

const makers = {
  heading: node => make(Number(node.level) === 1 ? 'h1' : 'h2'),
  text: () => make('p'),
  cell: () => make('p'),
  button: () => makeButton(),
  link: () => makeButton('link'),
  place: () => makeButton(),
  row: node => node.has('f') ? makeButton() : make('p'),
  textbox: () => makeField(),
  spinbutton: () => makeField('spinbutton'),
  radio: () => makeTick('radio'),
  checkbox: () => makeTick('checkbox'),
  figure: node => node.has('f') ? makeSteered() : make('div', 'img'),
  status: () => make('div', 'status'),
  alert: () => make('div', 'alert'),
  progressbar: () => make('div', 'progressbar'),
};

// typedWords(): the field of words that has the focus, which the browser edits by itself, if one has.
export function typedWords() {
  const field = activeField();
  return field && nodes.get(field).role === 'textbox' ? field : null;
}

function set(element, name, value) {
  if (value === '' || value === undefined || value === false) {
    if (element.hasAttribute(name)) element.removeAttribute(name);
  } else if (element.getAttribute(name) !== String(value)) {
    element.setAttribute(name, value);
  }
}

function fingers() { return matchMedia('(pointer: coarse)').matches; }

function describe(element, node, settled) {
  const joined = wordsOf(node);
  const steered = node.role === 'figure' && node.has('f');
  if (element instanceof HTMLInputElement) {
    set(element, 'aria-label', node.name);
    if (element.type === 'text') {
      const typing = element === document.activeElement && (composing || !settled);
      if (!typing && element.value !== node.value) element.value = node.value;
      const number = node.role === 'spinbutton';
      // Numbers are typed on our own pad under a finger, where a keyboard would cover the half of the screen.
      set(element, 'inputmode', number ? (fingers() ? 'none' : 'decimal') : 'text');
      if (number) set(element, 'aria-valuetext', node.value);
    } else {
      element.checked = node.has('s');
    }
  } else if (steered) {
    set(element, 'aria-label', node.name);
    set(element, 'aria-valuetext', node.value);
  } else if (node.role === 'figure' || node.role === 'progressbar') {
    set(element, 'aria-label', joined);
  } else if (!fresh.has(element) && element.textContent !== joined) {
    element.textContent = joined;
  }
  set(element, 'aria-description', node.note);
  set(element, 'aria-invalid', node.has('i') && 'true');
  set(element, 'aria-disabled', node.has('d') && 'true');
  set(element, 'aria-current', node.has('c') && 'page');
  set(element, 'aria-expanded', node.has('e') && 'true');
  if (element.localName === 'button') {
    set(element, 'aria-pressed', node.has('s') && 'true');
    // The pad's keys are for fingers: the keyboard has its own digits.
    set(element, 'tabindex', !node.has('f') && '-1');
  }
  if (node.role === 'spinbutton' || node.role === 'progressbar' || steered) {
    set(element, 'aria-valuemin', node.min);
    set(element, 'aria-valuemax', node.max);
    set(element, 'aria-valuenow', node.now);
  }
  set(element, 'data-role', node.role);
  if (node.role === 'textbox') {
    element.classList.toggle('typing', node.has('F'));
    // Beneath the letters stands the canvas's own line, 22 of its 44 pixels being the letters' size.
    element.style.fontSize = `${Number(node.height) / 2}px`;
  }
}

function place(element, node) {
  const {style} = element;
  for (const [name, from] of [['left', 'x'], ['top', 'y'], ['width', 'width'], ['height', 'height']]) {
    const wanted = `${Number(node[from])}px`;
    if (style[name] !== wanted) style[name] = wanted;
  }
}

// Puts the children into this order, moving as few as it can.
function order(parent, wanted) {
  let at = parent.firstChild;
  for (const element of wanted) {
    if (element === at) at = at.nextSibling;
    else parent.insertBefore(element, at);
  }
}

const places = make('nav');
places.setAttribute('aria-label', document.title);
const content = make('main');

// The elements as children of the main part: rows in lists.
function listed(all) {
  const children = [];
  const kept = new Set();
  let list = null;
  let rows = [];
  const close = () => {
    if (list) order(list, rows);
    list = null;
    rows = [];
  };
  for (const element of all) {
    if (nodes.get(element).role !== 'row') {
      close();
      children.push(element);
      continue;
    }
    if (!list) {
      list = lists.get(element) ?? make('ul', 'list');
      lists.set(element, list);
      kept.add(element);
      children.push(list);
    }
    let item = items.get(element);
    if (!item) {
      item = make('li');
      item.append(element);
      items.set(element, item);
    }
    rows.push(item);
  }
  close();
  for (const [first, old] of lists) {
    if (kept.has(first)) continue;
    lists.delete(first);
    old.remove();
  }
  return children;
}

// patch(LINES, SETTLED): the elements as the nodes are now. Not settled: more frames follow at once.
export function patch(lines, settled) {
  const wanted = [];
  const inPlaces = [];
  const kept = new Set();
  let focused = null;
  const all = read(lines);
  voices(all);
  for (const node of all) {
    const key = node.role === 'row' ? `${node.key} ${node.has('f')}` : node.key;
    let element = elements.get(key);
    if (!element) {
      element = (makers[node.role] ?? makers.text)(node);
      elements.set(key, element);
      if (live.includes(node.role)) speakSoon(element);
    }
    kept.add(key);
    nodes.set(element, node);
    describe(element, node, settled);
    place(element, node);
    if (node.has('F')) focused = element;
    (node.role === 'place' ? inPlaces : wanted).push(element);
  }
  following = true;
  for (const [key, element] of elements) {
    if (kept.has(key)) continue;
    (items.get(element) ?? element).remove();
    items.delete(element);
    elements.delete(key);
  }
  order(places, inPlaces);
  if (inPlaces.length === 0) places.remove();
  order(content, listed(wanted));
  order(container, inPlaces.length > 0 ? [places, content] : [content]);
  const here = document.activeElement;
  if (focused && focused !== here) {
    focused.focus({preventScroll: true});
    if (typedWords() === focused) focused.setSelectionRange(focused.value.length, focused.value.length);
  }
  else if (!focused && nodes.has(here)) here.blur();
  following = false;
}

container.addEventListener('focusin', event => {
  const node = nodes.get(event.target);
  if (following || !node || node.has('F') || !node.has('f')) return;
  act('focus', event.target);
});

// A field that is left is judged. The window that goes to the back leaves nothing: typing goes on when it is back.
container.addEventListener('focusout', event => {
  if (following || !document.hasFocus() || nodes.has(event.relatedTarget)) return;
  leave();
});
