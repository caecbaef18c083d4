// A visitor in Firefox, driven by Puppeteer over WebDriver BiDi. On a display of its own: without one this
// browser has no WebGL.
import {mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import puppeteer from 'puppeteer-core';
import {findCommand, watch} from '../page/browser.mjs';
import {hands, sleep} from '../page/journey.mjs';
import {Visitor} from '../page/visitor.mjs';

// WebGL in software too; files are put into a folder without asking; nothing is asked of Mozilla's own hosts.
const preferences = downloads => ({
  'webgl.force-enabled': true,
  'browser.download.folderList': 2,
  'browser.download.dir': downloads,
  'browser.download.useDownloadDir': true,
  'browser.download.always_ask_before_handling_new_types': false,
  'network.captive-portal-service.enabled': false,
  'network.connectivity-service.enabled': false,
});

export class FirefoxVisitor extends Visitor {
  async arrive() {
    this.folder = mkdtempSync(join(tmpdir(), 'saltrafter-firefox-'));
    this.inbox = join(this.folder, 'downloads');
    this.context = await puppeteer.launch({
      browser: 'firefox',
      executablePath: findCommand(['firefox-esr', 'firefox'], 'firefox-esr', 'SALTRAFTER_FIREFOX'),
      headless: false,
      env: {...process.env, DISPLAY: this.browser.display, WAYLAND_DISPLAY: '', LIBGL_ALWAYS_SOFTWARE: '1'},
      extraPrefsFirefox: preferences(this.inbox),
    });
  }

  async depart() {
    await this.context?.close();
    if (this.folder) rmSync(this.folder, {recursive: true, force: true, maxRetries: 20});
  }

  async newPage() {
    const page = await this.context.newPage();
    const {viewport, hasTouch, deviceScaleFactor = 1} = this.options;
    // Older releases turn no screen and count no fingers; the size they set all the same.
    await page.setViewport({...viewport, hasTouch, deviceScaleFactor}).catch(error => {
      if (!/unknown command/.test(error.message)) throw error;
    });
    this.complaints.push(await watch(page, this.address));
    hands.set(page, {
      tap: (x, y) => page.touchscreen.tap(x, y),
      wheel: async (x, y, by) => {
        await page.mouse.move(x, y);
        await page.mouse.wheel({deltaY: Math.round(by)});
      },
    });
    return page;
  }

  async cut() {}

  async download() {
    let names = [];
    try {
      names = readdirSync(this.inbox);
    } catch {
      // Nothing has come yet, not even the folder.
    }
    // One that is still being written has a second file beside it.
    if (names.length === 0 || names.some(name => name.endsWith('.part'))) return null;
    const path = join(this.inbox, names[0]);
    const text = readFileSync(path, 'utf8');
    rmSync(path);
    return {name: names[0], text};
  }

  async give(name, text) {
    const path = join(this.folder, name);
    writeFileSync(path, text);
    const input = await this.page.$('#file');
    await input.uploadFile(path);
    await sleep(200);
  }
}
