// A person at the page in one browser: opens it, closes it, loses the network, gets files and gives some.
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
    const visitor = new Visitor();
    Object.assign(visitor, {browser, options, path, init, complaints: [], downloads: [], taken: new Map()});
    Visitor.all.add(visitor);
    visitor.server = await serve(pageFolder);
    visitor.context = await browser.newContext(options);
    await visitor.open();
    return visitor;
  }

  get address() { return this.server.address; }

  async open() {
    this.page = await this.context.newPage();
    if (this.init) await this.page.addInitScript(this.init);
    const complaints = await watch(this.page, this.address);
    this.complaints.push(complaints);
    this.page.on('download', download => this.downloads.push(download));
    await this.page.goto(this.address + this.path);
    await started(this.page);
    await until(() => this.page.locator('#mirror [data-role]').count());
  }

  // What must not have happened on any page so far.
  assertQuiet() { assert.deepEqual(this.complaints.flat(), []); }

  async keptForOffline() {
    await this.page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
  }

  async end() {
    Visitor.all.delete(this);
    await this.context?.close();
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
      await this.context.setOffline(true);
    },
    online: async () => {
      await this.context.setOffline(false);
      this.server = await serve(pageFolder, {port: this.port});
    },
    reopen: () => this.open(),
    new_visitor: async () => {
      await this.context.close();
      this.context = await this.browser.newContext(this.options);
      await this.open();
    },
    take_file: async name => {
      const download = await until(() => this.downloads.shift());
      assert.ok(download, 'nothing was downloaded');
      this.taken.set(name, await readFile(await download.path(), 'utf8'));
      this.takenName = download.suggestedFilename();
    },
    open_file: async name => {
      await this.give(this.takenName, this.taken.get(name));
    },
  };

  // give(NAME, TEXT): a file that the person chooses.
  async give(name, text) {
    await this.page.setInputFiles('#file', {name, mimeType: 'application/json', buffer: Buffer.from(text)});
    await sleep(200);
  }

  // slots(): everything of ours in both stores, as stored.
  slots() {
    return this.page.evaluate(async () => {
      const {everything} = await import(new URL('slots.js', document.baseURI).href);
      return everything();
    });
  }
}
