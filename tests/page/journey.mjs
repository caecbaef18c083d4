// Journeys (tests/journeys) in the page: the reader of the file, and a player that sees by the mirror's elements,
// touches the canvas where they lie and types into their fields. core/desk/journey.h says what the verbs mean.
// Of a page it needs evaluate(FUNCTION, ARGUMENT), which every engine's driver has, and hands (below).
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {root} from './browser.mjs';

const nodeVerbs = ['see', 'miss', 'await', 'press', 'fill', 'note', 'changed'];
const roles = ['heading', 'text', 'button', 'link', 'textbox', 'spinbutton', 'radio', 'checkbox', 'row', 'cell',
  'figure', 'status', 'alert', 'progressbar', 'place'];
const patienceMs = {short: 15000, long: 150000};
const dots = '…';

// readJourney(TEXT): its steps. Throws with the line that is none.
export function readJourney(text) {
  const steps = [];
  text.split('\n').forEach((line, i) => {
    const wrong = () => { throw new Error(`line ${i + 1}: ${line}`); };
    const words = line.match(/"[^"]*"|[^ "]+/g) ?? [];
    if (words.length === 0 || words[0].startsWith('#')) return;
    if ((line.match(/"/g)?.length ?? 0) % 2) wrong();
    const plain = words.map(word => word.startsWith('"') ? word.slice(1, -1) : word);
    const onNode = nodeVerbs.includes(plain[0]);
    const [verb, role, name = '', value = ''] = onNode ? plain : [plain[0], '', ...plain.slice(1)];
    if (plain.length > (onNode ? 4 : 3) || onNode && (!roles.includes(role) || !name)) wrong();
    steps.push({line: i + 1, verb, role, name, value});
  });
  return steps;
}

export const journey = name => readJourney(readFileSync(join(root, 'tests/journeys', `${name}.txt`), 'utf8'));

// Thin and non-breaking spaces as plain ones: a journey is typed on a keyboard.
const plainSpaces = text => text.replace(/[\u2009\u202f\u00a0]/g, ' ');

// matches(PATTERN, TEXT): … at an end of the pattern stands for anything.
export function matches(pattern, text) {
  pattern = plainSpaces(pattern);
  text = plainSpaces(text);
  const start = pattern.startsWith(dots);
  if (start) pattern = pattern.slice(dots.length);
  const end = pattern.endsWith(dots);
  if (end) pattern = pattern.slice(0, -dots.length);
  if (start && end) return text.includes(pattern);
  if (end) return text.startsWith(pattern);
  if (start) return text.endsWith(pattern);
  return text === pattern;
}

// nodes(PAGE): what the mirror shows, in reading order.
export const nodes = page => page.evaluate(async () => {
  const {nodeOf} = await import(new URL('mirror.js', document.baseURI).href);
  return [...document.querySelectorAll('#mirror [data-role]')].map((element, at) => {
    const {key, role, name, value, note, state} = nodeOf(element);
    const {x, y, width, height} = element.getBoundingClientRect();
    return {at, key, role, name, value, note, state, x, y, width, height};
  });
});

// How a page is touched, where Playwright's finger does not do it: {tap(X, Y), wheel(X, Y, BY)}.
export const hands = new WeakMap();
export const fingers = page => ({
  tap: (x, y) => page.touchscreen.tap(x, y),
  wheel: async (x, y, by) => {
    await page.mouse.move(x, y);
    await page.mouse.wheel(0, by);
  },
});
const handsOf = page => hands.get(page) ?? fingers(page);

export const sleep = ms => new Promise(done => setTimeout(done, ms));

// until(CHECK, MS): its first answer that is none of null, undefined and false, or null when the time is over.
export async function until(check, ms = patienceMs.short) {
  const end = Date.now() + ms;
  for (;;) {
    const answer = await check();
    if (answer !== null && answer !== undefined && answer !== false) return answer;
    if (Date.now() > end) return null;
    await sleep(60);
  }
}

// settled(PAGE): no further frame is wanted, or it has taken too long (long work repaints as it goes).
export const settled = (page, ms = 2000) =>
  until(() => page.evaluate(() => saltrafter._saltrafter_wants_frame() === 0), ms);

// find(PAGE, ROLE, NAME, VALUE): the first such node, or null.
export async function find(page, role, name, value = '') {
  const all = await nodes(page);
  return all.find(node => node.role === role && matches(name, node.name) &&
    (!value || matches(value, node.value) || matches(value, node.note))) ?? null;
}

export async function wait(page, role, name, value = '', ms = patienceMs.short) {
  const found = await until(() => find(page, role, name, value), ms);
  if (found) return found;
  throw new Error(`not there: ${role} "${name}" "${value}"\n${await told(page)}`);
}

// told(PAGE): the screen in words, for a failed test.
export async function told(page) {
  return (await nodes(page)).map(({role, name, value, note, state}) =>
    `  ${role} "${name}" "${value}"${note ? ` (${note})` : ''} ${state}`).join('\n');
}

// A finger scrolls what it wants to touch into view; where that moves nothing, the node does not scroll.
async function reveal(page, role, name) {
  const {width, height} = await page.evaluate(() => ({width: innerWidth, height: innerHeight}));
  const room = {top: 90, bottom: height - 130};
  for (let turn = 0; turn < 6; ++turn) {
    const node = await wait(page, role, name);
    const middle = node.y + node.height / 2;
    const inside = !node.state.includes('o') && middle > room.top && middle < room.bottom;
    if (inside || role === 'place') return node;
    await handsOf(page).wheel(width / 2, height / 2, middle - (room.top + room.bottom) / 2);
    await sleep(150);
    await settled(page);
    const now = await wait(page, role, name);
    if (Math.abs(now.y - node.y) < 1 && !now.state.includes('o')) return now;
  }
  return wait(page, role, name);
}

export async function press(page, role, name) {
  await settled(page);
  const node = await reveal(page, role, name);
  await handsOf(page).tap(node.x + node.width / 2, node.y + node.height / 2);
}

// fill(...): the way of assistive software and of soft keyboards, and then out of the field.
export async function fill(page, role, name, text) {
  const {at} = await wait(page, role, name);
  await page.evaluate(([at, text]) => {
    const field = document.querySelectorAll('#mirror [data-role]')[at];
    field.focus();
    field.select();
    document.execCommand(text ? 'insertText' : 'delete', false, text);
  }, [at, text]);
  await settled(page);
  await page.evaluate(() => document.activeElement.blur());
}

// Plays steps in a world: {page, shell: {verb: async argument => ...}}. The world's page may change under way.
export class Player {
  constructor(steps, world, after = async () => {}) {
    this.steps = steps;
    this.world = world;
    this.after = after;
    this.notes = new Map();
  }

  async play() {
    for (const [i, step] of this.steps.entries()) {
      try {
        await this.step(step);
      } catch (error) {
        await this.after(step, i + 1, error);
        const {line, verb, role, name, value} = step;
        throw new Error(`line ${line}: ${verb} ${role} "${name}" "${value}": ${error.message}`);
      }
      await this.after(step, i + 1);
    }
    return this.steps.length;
  }

  async step({verb, role, name, value}) {
    const {page, shell} = this.world;
    if (!role) {
      if (!shell[verb]) throw new Error('the page has no such verb');
      await shell[verb](name);
      return;
    }
    const now = node => `${node.name} ${node.value}`;
    switch (verb) {
      case 'see': await wait(page, role, name, value); break;
      case 'await': await wait(page, role, name, value, patienceMs.long); break;
      case 'miss':
        if (!await until(async () => !await find(page, role, name, value))) throw new Error('it is there');
        break;
      case 'press': await press(page, role, name); break;
      case 'fill': await fill(page, role, name, value); break;
      case 'note': this.notes.set(value, now(await wait(page, role, name))); break;
      case 'changed': {
        if (!this.notes.has(value)) throw new Error('nothing was noted');
        const differs = async () => {
          const node = await find(page, role, name);
          return node && now(node) !== this.notes.get(value);
        };
        if (!await until(differs, patienceMs.long)) throw new Error(`still: ${this.notes.get(value)}`);
        break;
      }
    }
  }
}
