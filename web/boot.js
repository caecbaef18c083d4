// Brings the program in: checks what it needs, shows how far it is, starts it, keeps it for the next visit.
import {awake} from './awake.js';
import {files} from './files.js';
import {watchInput} from './input.js';
import {call, end, use} from './program.js';
import {rescue, say} from './rescue.js';
import {begin, redraw, wake} from './run.js';
import {scriptText} from './script_text.js';
import {firstStore, loadSecond, secondStore, whereabouts} from './slots.js';
import {installWorker} from './worker.js';

const body = document.body;
const before = document.getElementById('before');
const line = document.getElementById('progress');
const bar = document.getElementById('bar');
const canvas = document.getElementById('canvas');

// Inside another page's frame a click could be led astray, and storage may be refused.
function framed() {
  if (top === self) return false;
  say('This page does not run inside another one.');
  const link = document.createElement('a');
  link.href = location.href;
  link.target = '_blank';
  link.rel = 'noopener';
  link.textContent = 'Open it in its own tab';
  line.after(link);
  return true;
}

function lacks() {
  if (typeof WebAssembly !== 'object') {
    return 'This browser does not run WebAssembly, which the program is made of.';
  }
  if (!document.createElement('canvas').getContext('webgl2')) {
    return 'This browser offers no WebGL 2, which the program draws with. Its settings may have it off.';
  }
  return '';
}

// A response that counts its bytes. The host's content type plays no part, nor does its compression: the size
// was written into the page when it was built.
async function counted(url, size) {
  const response = await fetch(url);
  if (!response.ok || !response.body) throw new Error(`${url}: ${response.status}`);
  const reader = response.body.getReader();
  let got = 0;
  const stream = new ReadableStream({
    async pull(out) {
      const {done, value} = await reader.read();
      if (done) return out.close();
      got += value.length;
      bar.value = Math.min(1, got / size);
      line.textContent = `Getting ready, ${Math.round(got / 1024)} of ${Math.round(size / 1024)} kB`;
      out.enqueue(value);
    },
    cancel() { return reader.cancel(); },
  });
  return new Response(stream, {headers: {'Content-Type': 'application/wasm'}});
}

function loadGlue(url) {
  return new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.src = url;
    script.onload = () => resolve(globalThis.saltrafterProgram);
    script.onerror = () => reject(new Error(`${url} could not be read`));
    document.head.append(script);
  });
}

function failed(error) {
  console.error(error);
  rescue('The program could not be started.', `What went wrong: ${error && error.message || error}`);
}

// Fields of words are elements of the browser: they are set in the program's own face.
async function shareFace(module) {
  const at = call('face');
  const bytes = module.HEAPU8.slice(at, at + call('face_bytes'));
  const face = new FontFace('Saltrafter Serif', bytes.buffer);
  document.fonts.add(face);
  await face.load().catch(error => console.info('The fields keep the browser\'s own face:', error));
}

async function start() {
  const url = body.dataset.wasm;
  const wasm = counted(url, Number(body.dataset.wasmBytes));
  wasm.catch(() => {});
  const make = await loadGlue(body.dataset.glue);
  const handed = {
    canvas,
    pseudo: new URLSearchParams(location.search).has('pseudo'),
    first: firstStore(() => handed),
    second: secondStore(wake),
    whereabouts: whereabouts(() => handed),
    files: files(),
    awake: awake(),
    scriptText: scriptText(),
    // The first frame is on the canvas: the words before it may go.
    firstFrame() {
      performance.mark('first-frame');
      before.hidden = true;
      canvas.hidden = false;
    },
    restored: redraw,
    instantiateWasm(imports, receive) {
      wasm.then(response => WebAssembly.instantiateStreaming(response, imports))
        .then(result => receive(result.instance, result.module))
        .catch(failed);
      return {};
    },
    onAbort(what) { end(new Error(`aborted ${what}`)); },
  };
  const module = await make(handed);
  globalThis.saltrafter = module;
  if (module._saltrafter_draw) {
    use(module);
    loadSecond(wake);
    watchInput(canvas);
    begin();
    await shareFace(module);
  }
  await installWorker();
}

const lack = framed() ? 'framed' : lacks();
if (lack && lack !== 'framed') rescue(lack);
if (!lack) start().catch(failed);
