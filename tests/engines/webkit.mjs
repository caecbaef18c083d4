// A visitor in WebKitGTK: MiniBrowser on a display of its own, driven by WebKitWebDriver with plain calls of
// WebDriver.
import {execFile, spawn} from 'node:child_process';
import {mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {createServer} from 'node:net';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {promisify} from 'node:util';
import {findCommand} from '../page/browser.mjs';
import {hands, sleep, until} from '../page/journey.mjs';
import {Visitor} from '../page/visitor.mjs';

// WebDriver's own name for an element's reference.
const elementKey = 'element-6066-11e4-a52e-4f735466cecf';

const freePort = () => new Promise(done => {
  const server = createServer().listen(0, '127.0.0.1', () => {
    const {port} = server.address();
    server.close(() => done(port));
  });
});

// In the page: what must not happen, as far as a script can see it; this driver tells nothing of the kind.
function listen() {
  const complaints = globalThis.complaints = [];
  addEventListener('error', event => complaints.push(`error: ${event.message}`));
  addEventListener('unhandledrejection', event => complaints.push(`error: ${event.reason}`));
  addEventListener('securitypolicyviolation', event =>
    complaints.push(`policy: ${event.violatedDirective} ${event.blockedURI}`));
  const say = console.error;
  console.error = (...words) => {
    complaints.push(`console: ${words.map(word => word?.stack ? `${word} ${word.stack}` : word).join(' ')}`);
    say.apply(console, words);
  };
}
function heard() {
  const foreign = performance.getEntriesByType('resource').map(entry => entry.name)
    .filter(name => !/^(data|blob):/.test(name) && new URL(name).origin !== location.origin);
  return [...globalThis.complaints, ...foreign.map(name => `foreign request: ${name}`)];
}

// One window of one session, with as much of Playwright's page as journeys and visitors use.
class WebKitPage {
  constructor(session, handle) { Object.assign(this, {session, handle, closed: false}); }

  async goto(url) {
    await this.session.call('POST', '/url', {url});
    await this.evaluate(listen);
  }

  async evaluate(work, argument = null) {
    const script = `const tell = arguments[1];
      (async () => (${work})(arguments[0]))()
        .then(value => tell({value}), error => tell({error: String(error)}));`;
    const {value, error} = await this.session.call('POST', '/execute/async', {script, args: [argument]});
    if (error !== undefined) throw new Error(error);
    return value;
  }

  async screenshot({path} = {}) {
    const png = Buffer.from(await this.session.call('GET', '/screenshot'), 'base64');
    if (path) writeFileSync(path, png);
    return png;
  }

  // Another window first: the session ends with its last one.
  async close() {
    this.complaints = await this.evaluate(heard);
    const {handle} = await this.session.call('POST', '/window/new', {type: 'tab'});
    await this.session.call('DELETE', '/window');
    await this.session.call('POST', '/window', {handle});
    this.closed = true;
  }
  isClosed() { return this.closed; }

  async act(source) {
    await this.session.call('POST', '/actions', {actions: [source]});
  }
  async tap(x, y) {
    const move = {type: 'pointerMove', duration: 0, x: Math.round(x), y: Math.round(y)};
    await this.act({type: 'pointer', id: 'finger', parameters: {pointerType: 'mouse'},
      actions: [move, {type: 'pointerDown', button: 0}, {type: 'pointerUp', button: 0}]});
  }
  async wheel(x, y, by) {
    // This driver takes a turn for where the wheel stands then, and tells the page what lies between.
    this.session.turned += Math.round(by);
    await this.act({type: 'wheel', id: 'wheel', actions: [{type: 'scroll', duration: 0, x: Math.round(x),
      y: Math.round(y), deltaX: 0, deltaY: this.session.turned}]});
  }
}

// The driver and one browser with empty stores.
class Session {
  turned = 0;  // by the wheel, in all

  static async start(display, folder) {
    const session = new Session();
    const port = await freePort();
    session.driver = spawn(findCommand(['WebKitWebDriver'], 'webkit2gtk-driver', 'SALTRAFTER_WEBKIT_DRIVER'),
      [`--port=${port}`], {
        // A group of its own, and none of our pipes: whatever is left of it ends with the session.
        stdio: 'ignore',
        detached: true,
        env: {
          ...process.env,
          DISPLAY: display, WAYLAND_DISPLAY: '', GDK_BACKEND: 'x11', LIBGL_ALWAYS_SOFTWARE: '1',
          HOME: folder, XDG_CONFIG_HOME: join(folder, 'config'), XDG_CACHE_HOME: join(folder, 'cache'),
          XDG_DATA_HOME: join(folder, 'data'), NO_AT_BRIDGE: '1',
          // Its sandbox refuses to start for root, as whom a container runs its tests.
          ...process.getuid() === 0 && {WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1'},
        },
      });
    session.gone = new Promise(done => session.driver.once('exit', done));
    session.base = `http://127.0.0.1:${port}`;
    await session.begin().catch(async error => {
      await session.end();
      throw error;
    });
    return session;
  }

  async begin() {
    if (!await until(() => fetch(`${this.base}/status`).then(answer => answer.ok, () => false))) {
      throw new Error('WebKitWebDriver did not start');
    }
    const {sessionId} = await this.call('POST', '/session', {capabilities: {alwaysMatch: {}}});
    this.base += `/session/${sessionId}`;
    await this.call('POST', '/timeouts', {script: 60000});
  }

  async call(method, path, body) {
    const answer = await fetch(this.base + path, {method, body: body && JSON.stringify(body)});
    const {value} = await answer.json();
    if (!answer.ok) throw new Error(`${path}: ${value.error}: ${value.message}`);
    return value;
  }

  async end() {
    await Promise.race([this.call('DELETE', '').catch(() => {}), sleep(5000)]);
    try {
      process.kill(-this.driver.pid, 'SIGKILL');
    } catch {
      // All of the group has ended already.
    }
    await this.gone;
  }
}

export class WebKitVisitor extends Visitor {
  pages = [];

  async arrive() {
    this.folder = mkdtempSync(join(tmpdir(), 'saltrafter-webkit-'));
    this.inbox = join(this.folder, 'downloads');
    mkdirSync(this.inbox);
    mkdirSync(join(this.folder, 'config'));
    writeFileSync(join(this.folder, 'config/user-dirs.dirs'), 'XDG_DOWNLOAD_DIR="$HOME/downloads"\n');
    this.context = await Session.start(this.browser.display, this.folder);
  }

  async depart() {
    if (this.page && !this.page.isClosed()) await this.page.close().catch(() => {});
    await this.context?.end();
    if (this.folder) rmSync(this.folder, {recursive: true, force: true, maxRetries: 20});
  }

  async newPage() {
    const page = new WebKitPage(this.context, await this.context.call('GET', '/window'));
    const {width, height} = this.options.viewport;
    // A window's bars are no part of the page, and its buttons keep it from becoming narrower than they are.
    const bars = await page.evaluate(() => outerHeight - innerHeight);
    await this.context.call('POST', '/window/rect', {x: 0, y: 0, width, height: height + bars});
    // No window manager gives it the focus, and a page without it takes its fields for left already.
    const words = ['search', '--onlyvisible', '--class', 'MiniBrowser', 'windowfocus', '--sync'];
    await promisify(execFile)('xdotool', words, {env: {...process.env, DISPLAY: this.browser.display}});
    hands.set(page, page);
    this.pages.push(page);
    return page;
  }

  async heard() {
    return (await Promise.all(this.pages.map(page => page.complaints ?? page.evaluate(heard)))).flat();
  }

  async cut() {}

  async download() {
    const [name] = readdirSync(this.inbox);
    if (!name || name.endsWith('.wkdownload')) return null;
    const text = readFileSync(join(this.inbox, name), 'utf8');
    rmSync(join(this.inbox, name));
    return {name, text};
  }

  async give(name, text) {
    const path = join(this.folder, name);
    writeFileSync(path, text);
    const element = await this.context.call('POST', '/element', {using: 'css selector', value: '#file'});
    await this.context.call('POST', `/element/${element[elementKey]}/value`, {text: path});
    await sleep(200);
  }
}
