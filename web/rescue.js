// The page without its program: plain words, and the maker's data as a file, made from the stores by themselves.
import {everything} from './slots.js';
import {save} from './files.js';

async function download() {
  const {first, second} = await everything();
  const saved = {format: 'saltrafter.slots', schema: 1, local_storage: first, database: second};
  save('saltrafter-data.json', `${JSON.stringify(saved, null, 2)}\n`);
}

// say(PARAGRAPHS...): plain words stand where the program would.
export function say(...paragraphs) {
  const before = document.getElementById('before');
  document.getElementById('bar').hidden = true;
  document.getElementById('canvas').hidden = true;
  document.getElementById('mirror').hidden = true;
  before.hidden = false;
  const line = document.getElementById('progress');
  line.textContent = paragraphs[0];
  line.after(...paragraphs.slice(1).filter(Boolean).map(text => {
    const more = document.createElement('p');
    more.textContent = text;
    return more;
  }));
  return before;
}

// rescue(PARAGRAPHS...): the same, with the way to the data.
export function rescue(...paragraphs) {
  const button = document.createElement('button');
  button.type = 'button';
  button.textContent = 'Download my data';
  button.addEventListener('click', download);
  say(...paragraphs).append(button);
}
