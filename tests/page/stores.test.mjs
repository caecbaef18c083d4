// What the page has called saved is there, whatever happens to the browser and to its stores.
import assert from 'node:assert/strict';
import {after, before, test} from 'node:test';
import {openBrowser, pageFolder, serve, started} from './browser.mjs';
import {fill, find, nodes, press, sleep, told, until, wait} from './journey.mjs';
import {Mortal} from './mortal.mjs';
import {Visitor} from './visitor.mjs';

const saved = 'Saved on this device';
const meat = ['spinbutton', 'Meat on the tray'];
// From wherever the page opens: where the maker was, or at the list.
const openRecipe = async page => {
  await press(page, 'place', 'Bench');
  await press(page, 'row', 'Caraway salami…');
};
const shows = (page, grams) => until(async () => {
  const node = await find(page, ...meat);
  return node && node.value.replace(/\D/g, '') === String(grams);
}, 8000);

let browser;

before(async () => { browser = await openBrowser(); });
after(async () => {
  await Visitor.endAll();
  await browser?.close();
});

// In the page: runs before any script of it.
const refuseStorage = () => {
  Object.defineProperty(globalThis, 'localStorage', {get() { throw new DOMException('refused', 'SecurityError'); }});
};
const blockDatabase = () => {
  indexedDB.open = () => {
    const request = new EventTarget();
    setTimeout(() => request.onerror?.(new Event('error')));
    return request;
  };
};
const silenceDatabase = () => { indexedDB.open = () => new EventTarget(); };
const fillStorage = () => {
  if (localStorage.getItem('other')) return;
  let text = 'x'.repeat(1 << 20);
  for (let i = 0; text.length > 0; ) {
    try {
      localStorage.setItem(`other${i || ''}`, text);
      ++i;
    } catch {
      text = text.slice(0, text.length >> 1);
    }
  }
};

test('a browser killed as soon as the page says saved has lost nothing', {timeout: 400000}, async () => {
  const server = await serve(pageFolder);
  const mortal = new Mortal();
  try {
    let page = await mortal.open(server.address);
    await wait(page, 'status', saved);
    for (let i = 0; i < 5; ++i) {
      await openRecipe(page);
      const grams = 2001 + 111 * i;
      await fill(page, ...meat, String(grams));
      // As soon as the words appear in the page, without asking from here.
      await page.evaluate(async words => {
        const said = () => [...document.querySelectorAll('#mirror [role=status]')]
          .some(element => element.textContent.includes(words));
        const first = performance.now();
        let before = true;
        // A busy machine takes its time to see that something is not saved any more.
        while (before && performance.now() - first < 3000) {
          before = said();
          await new Promise(done => setTimeout(done, 5));
        }
        while (!said() && performance.now() - first < 10000) await new Promise(done => setTimeout(done, 5));
      }, saved);
      await mortal.kill();
      page = await mortal.open(server.address);
      await openRecipe(page);
      assert.ok(await shows(page, grams), `${grams} g were lost in round ${i + 1}:\n${await told(page)}`);
      await page.goto(server.address);
      await started(page);
    }
  } finally {
    await mortal.end();
    await server.close();
  }
});

test('a browser killed before it has saved shows a whole book, before or after', {timeout: 200000}, async () => {
  const server = await serve(pageFolder);
  const mortal = new Mortal();
  try {
    let page = await mortal.open(server.address);
    await wait(page, 'status', saved);
    await openRecipe(page);
    await fill(page, ...meat, '3003');
    await wait(page, 'status', saved);
    await sleep(7000);  // local storage reaches the disk some seconds later
    await fill(page, ...meat, '4004');
    await mortal.kill();
    page = await mortal.open(server.address);
    await openRecipe(page);
    assert.ok(await shows(page, 3003) || await shows(page, 4004), await told(page));
    assert.equal(await find(page, 'alert', '…'), null);
  } finally {
    await mortal.end();
    await server.close();
  }
});

test('refused storage is said before the first entry, and the program works', async () => {
  const visitor = await Visitor.start(browser, {init: refuseStorage});
  const said = await until(async () => (await nodes(visitor.page)).find(node =>
    ['status', 'alert'].includes(node.role) && node.name && !node.name.includes(saved)), 8000);
  assert.ok(said, await told(visitor.page));
  await openRecipe(visitor.page);
  await fill(visitor.page, ...meat, '2222');
  assert.ok(await shows(visitor.page, 2222));
  assert.equal(await find(visitor.page, 'status', saved), null);
  visitor.assertQuiet();
  await visitor.end();
});

for (const [name, init] of [['refuses', blockDatabase], ['never answers', silenceDatabase]]) {
  test(`a database that ${name} is said, nothing is called saved, and local storage keeps the book`, async () => {
    const visitor = await Visitor.start(browser, {init});
    const {page} = visitor;
    await wait(page, 'row', 'Caraway salami…');
    await openRecipe(page);
    await fill(page, ...meat, '2345');
    assert.ok(await until(async () => (await nodes(page)).some(node =>
      ['status', 'alert'].includes(node.role) && node.name.startsWith('Not saved')), 10000), await told(page));
    assert.equal(await find(page, 'status', saved), null);
    await page.close();
    await visitor.open();
    await openRecipe(visitor.page);
    assert.ok(await shows(visitor.page, 2345), await told(visitor.page));
    await visitor.end();
  });
}

test('a full local storage is said, and foreign keys stand as they were', async () => {
  const visitor = await Visitor.start(browser, {init: fillStorage});
  const {page} = visitor;
  assert.ok(await until(async () => (await nodes(page)).some(node =>
    ['status', 'alert'].includes(node.role) && node.name.startsWith('Not saved')), 10000), await told(page));
  assert.equal(await page.evaluate(() => localStorage.getItem('other').length), 1 << 20);
  await visitor.end();
});

// "SR1 kind id generation schema minReader edit count ..."
const heads = slots => Object.entries(slots).filter(([, text]) => text.startsWith('SR1 '))
  .map(([key, text]) => {
    const [, kind, id, generation, , , edit, count] = text.split(' ');
    return {key, kind, id, generation: Number(generation), edit, count: Number(count)};
  });

test('an edit of several records of which one slot is missing is found as if it had not been', async () => {
  const visitor = await Visitor.start(browser);
  let {page} = visitor;
  await wait(page, 'status', saved);
  const first = heads((await visitor.slots()).first);
  const [one] = first.filter(slot => slot.count > 1);
  assert.ok(one, 'no edit of several records was found');
  const together = first.filter(slot => slot.edit === one.edit);
  assert.equal(together.length, one.count);
  await page.evaluate(async key => {
    localStorage.removeItem(key);
    await new Promise((done, failed) => {
      const request = indexedDB.open('saltrafter', 1);
      request.onerror = failed;
      request.onsuccess = () => {
        const transaction = request.result.transaction('slots', 'readwrite');
        transaction.objectStore('slots').delete(key);
        transaction.oncomplete = () => { request.result.close(); done(); };
      };
    });
  }, one.key);
  await page.close();
  await visitor.open();
  ({page} = visitor);
  // The first visit's recipes were that edit: without one of them there is none, and nothing of it is half there.
  await wait(page, 'text', 'No recipe is here yet.');
  await sleep(1500);
  assert.equal((await nodes(page)).filter(node => node.role === 'row').length, 0, await told(page));
  await visitor.end();
});

test('a tab that is hidden has saved what was entered', async () => {
  const visitor = await Visitor.start(browser);
  const {page} = visitor;
  await wait(page, 'status', saved);
  await openRecipe(page);
  await wait(page, ...meat);
  const before = JSON.stringify((await visitor.slots()).first);
  await page.evaluate(() => {
    const field = [...document.querySelectorAll('#mirror input[role=spinbutton]')]
      .find(input => input.getAttribute('aria-label') === 'Meat on the tray');
    field.focus();
    field.value = '2468';
    field.dispatchEvent(new Event('input'));
    field.blur();
    // In the same moment, before any frame or timer.
    Object.defineProperty(document, 'visibilityState', {value: 'hidden', configurable: true});
    document.dispatchEvent(new Event('visibilitychange'));
    globalThis.storedAtOnce = JSON.stringify({...localStorage});
  });
  assert.match(await page.evaluate(() => globalThis.storedAtOnce), /2468/);
  assert.notEqual(JSON.stringify((await visitor.slots()).first), before);
  await visitor.end();
});
