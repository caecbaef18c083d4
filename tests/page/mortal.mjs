// A browser that may be killed at any moment, with a profile that outlives it.
import {spawn} from 'node:child_process';
import {mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {chromium} from 'playwright-core';
import {launchOptions, started} from './browser.mjs';
import {fingers, hands, sleep, until} from './journey.mjs';

export class Mortal {
  constructor() { this.profile = mkdtempSync(join(tmpdir(), 'saltrafter-profile-')); }

  // Starts it on the profile and opens the page.
  async open(address) {
    const {executablePath, args} = launchOptions();
    const port = join(this.profile, 'DevToolsActivePort');
    rmSync(port, {force: true});
    // A group of its own: the browser's helpers die with it.
    this.process = spawn(executablePath, [...args, '--headless=new', '--remote-debugging-port=0', '--no-first-run',
      `--user-data-dir=${this.profile}`, 'about:blank'], {detached: true, stdio: 'ignore'});
    this.gone = new Promise(done => this.process.once('exit', done));
    const lines = await until(() => {
      try {
        const read = readFileSync(port, 'utf8').split('\n');
        return read.length > 1 && read;
      } catch {
        return null;
      }
    }, 30000);
    if (!lines) throw new Error('the browser did not start');
    this.browser = await chromium.connectOverCDP(`ws://127.0.0.1:${lines[0]}${lines[1]}`);
    const [context] = this.browser.contexts();
    this.page = await context.newPage();
    // This browser has no touch screen.
    hands.set(this.page, {...fingers(this.page), tap: (x, y) => this.page.mouse.click(x, y)});
    await this.page.setViewportSize({width: 1000, height: 800});
    await this.page.goto(address);
    await started(this.page);
    return this.page;
  }

  async kill() {
    process.kill(-this.process.pid, 'SIGKILL');
    await this.gone;
    await this.browser.close().catch(() => {});
    await sleep(100);
    // What a killed browser leaves behind to keep a second one off the profile.
    for (const name of ['SingletonLock', 'SingletonSocket', 'SingletonCookie']) {
      rmSync(join(this.profile, name), {force: true});
    }
  }

  async end() {
    if (this.process && this.process.exitCode === null && this.process.signalCode === null) await this.kill();
    rmSync(this.profile, {recursive: true, force: true});
  }
}
