// Where the slots of the book are kept: local storage at once, IndexedDB to be sure. Other projects may share the
// origin: only keys with our prefix are read or written, and nothing is ever cleared.
import {call, put} from './program.js';

const prefix = 'saltrafter:';
const mark = '\x1f';
const absent = -1;
const done = {ok: 0, full: 1, denied: 2};

// Refused storage throws at the mere mention of its name.
function storage() {
  try {
    return localStorage;
  } catch {
    return null;
  }
}

function ourKeys() {
  const keys = [];
  const store = storage();
  for (let i = 0; store && i < store.length; ++i) {
    const key = store.key(i);
    if (key.startsWith(prefix)) keys.push(key);
  }
  return keys;
}

// firstStore(MODULE): the calls of stores.cpp, which answer before they return. The module is handed in, since the
// program reads its store before it has started.
export function firstStore(module) {
  const hand = text => put(text, module());
  return {
    keys() {
      try {
        return hand(ourKeys().join(mark));
      } catch {
        return hand('');
      }
    },
    get(key) {
      try {
        const text = storage()?.getItem(key) ?? null;
        return text === null ? absent : hand(text);
      } catch {
        return absent;
      }
    },
    set(key, text) {
      try {
        const store = storage();
        if (!store || !key.startsWith(prefix)) return done.denied;
        store.setItem(key, text);
        return store.getItem(key) === text ? done.ok : done.denied;
      } catch (error) {
        return error.name === 'QuotaExceededError' ? done.full : done.denied;
      }
    },
  };
}

// whereabouts(MODULE): where the maker was and what is half typed, beside the book and no part of it.
export function whereabouts(module) {
  const key = 'saltrafter-whereabouts';
  return {
    get() {
      try {
        const text = storage()?.getItem(key) ?? null;
        return text === null ? absent : put(text, module());
      } catch {
        return absent;
      }
    },
    set(text) {
      try {
        storage()?.setItem(key, text);
      } catch {
        // Refused or full: the book's own trouble is told by the book.
      }
    },
  };
}

const settled = request => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

let opened = null;

function open() {
  if (opened) return opened;
  opened = (async () => {
    const request = indexedDB.open('saltrafter', 1);
    request.onupgradeneeded = () => request.result.createObjectStore('slots');
    const database = await settled(request);
    const forget = () => { opened = null; };
    database.onversionchange = () => { database.close(); forget(); };
    database.onclose = forget;
    return database;
  })();
  opened.catch(() => { opened = null; });
  return opened;
}

async function all() {
  const store = (await open()).transaction('slots').objectStore('slots');
  const [keys, texts] = await Promise.all([settled(store.getAllKeys()), settled(store.getAll())]);
  return keys.map((key, i) => [key, texts[i]]).filter(([key]) => key.startsWith(prefix));
}

// All slots of one put stand or fall together.
async function write(slots) {
  const database = await open();
  await new Promise((resolve, reject) => {
    const transaction = database.transaction('slots', 'readwrite', {durability: 'strict'});
    const store = transaction.objectStore('slots');
    for (const [key, text] of slots) store.put(text, key);
    transaction.oncomplete = resolve;
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });
}

function pairs(listed) {
  const parts = listed.split(mark);
  const slots = [];
  for (let i = 0; i + 1 < parts.length; i += 2) slots.push([parts[i], parts[i + 1]]);
  return slots;
}

// secondStore(AFTER): its calls; `after` runs when an answer has reached the program.
export function secondStore(after) {
  return {
    put(listed, ticket) {
      write(pairs(listed)).then(() => 1, error => { console.info('Not stored:', error); return 0; })
        .then(ok => { call('put_done', ticket, ok); after(); });
    },
  };
}

// loadSecond(AFTER): hands all that the database holds to the program, or says that it cannot.
export async function loadSecond(after) {
  let slots = null;
  try {
    slots = await all();
  } catch (error) {
    console.info('The database did not open:', error);
  }
  if (slots) call('second_loaded', put(slots.flat().join(mark)));
  else call('second_failed');
  after();
}

// everything(): the slots of both stores as they are, without the program.
export async function everything() {
  const first = {};
  const second = {};
  for (const key of ourKeys()) first[key] = storage().getItem(key);
  const late = new Promise(resolve => setTimeout(resolve, 2000, []));
  for (const [key, text] of await Promise.race([all().catch(() => []), late])) second[key] = text;
  return {first, second};
}
