// A person at the page in one browser: opens it, closes it, loses the network, gets files and gives some. For
// another engine than Chromium a class of its own does what the methods under "The browser's own" do here.
import {readFile} from 'node:fs/promises';
import assert from 'node:assert/strict';
import {pageFolder, serve, started, watch} from './browser.mjs';
import {sleep, until} from './journey.mjs';

export const sizes = {
  wide: {viewport: {width: 1440, height: 900}, hasTouch: true},
  narrow: {viewport: {width: 390, height: 844}, hasTouch: true, isMobile: true, deviceScaleFactor: 2},
};

export class Visitor {
  static all = new Set();

  // For the end of a test file: also of those whose test has failed.
  static async endAll() { await Promise.all([...Visitor.all].map(visitor => visitor.end().catch(() => {}))); }

  // `options` are those of a browser context; `path` what follows the address.
  static async start(browser, {options = sizes.wide, path = '', init} = {}) {
    const visitor = new this();
    Object.assign(visitor, {browser, options, path, init, complaints: [], downloads: [], taken: new Map()});
    Visitor.all.add(visitor);
    visitor.server = await serve(pageFolder);
    await visitor.arrive();
    await visitor.open();
    return visitor;
  }

  get address() { return this.server.address; }

  async open() {
    this.page = await this.newPage();
    await this.page.goto(this.address + this.path);
    await started(this.page);
    await until(() => this.page.evaluate(() => document.querySelector('#mirror [data-role]') !== null));
  }

  // What must not have happened on any page so far.
  assertQuiet() { assert.deepEqual(this.complaints.flat(), []); }

  async keptForOffline() {
    await this.page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
  }

  async end() {
    Visitor.all.delete(this);
    await this.depart();
    await this.server?.close();
  }

  // The verbs of a journey that are the page's own.
  shell = {
    close: async () => {
      await this.keptForOffline();
      await this.page.close();
    },
    offline: async () => {
      this.port = Number(new URL(this.address).port);
      await this.server.close();
      await this.cut(true);
    },
    online: async () => {
      await this.cut(false);
      this.server = await serve(pageFolder, {port: this.port});
    },
    reopen: () => this.open(),
    new_visitor: async () => {
      await this.depart();
      await this.arrive();
      await this.open();
    },
    take_file: async name => {
      const download = await until(() => this.download());
      assert.ok(download, 'nothing was downloaded');
      this.taken.set(name, download.text);
      this.takenName = download.name;
    },
    open_file: async name => {
      await this.give(this.takenName, this.taken.get(name));
    },
  };

  // slots(): everything of ours in both stores, as stored.
  slots() {
    return this.page.evaluate(async () => {
      const {everything} = await import(new URL('slots.js', document.baseURI).href);
      return everything();
    });
  }

  // The browser's own.

  // What the pages have complained of so far.
  async heard() { return this.complaints.flat(); }

  // A browser that has never been at this page, and its end.
  async arrive() { this.context = await this.browser.newContext(this.options); }
  async depart() { await this.context?.close(); }

  // An empty page whose complaints and downloads are noted.
  async newPage() {
    const page = await this.context.newPage();
    if (this.init) await page.addInitScript(this.init);
    this.complaints.push(await watch(page, this.address));
    page.on('download', download => this.downloads.push(download));
    return page;
  }

  // The host is gone already: what else the engine can do to be without a network.
  async cut(offline) { await this.context.setOffline(offline); }

  // The next file that the page has handed out: {name, text}, or null.
  async download() {
    const download = this.downloads.shift();
    if (!download) return null;
    return {name: download.suggestedFilename(), text: await readFile(await download.path(), 'utf8')};
  }

  // give(NAME, TEXT): a file that the person chooses.
  async give(name, text) {
    await this.page.setInputFiles('#file', {name, mimeType: 'application/json', buffer: Buffer.from(text)});
    await sleep(200);
  }
}
