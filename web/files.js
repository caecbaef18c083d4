// Files go out as downloads and come in by choosing or dropping. What is in them is the program's to judge.
import {callWith} from './program.js';
import {wake} from './run.js';

const largestBytes = 16 * 1024 * 1024;  // nothing of ours is larger; the program has tighter limits of its own
const mark = '\x1f';

// save(NAME, TEXT): a file for the person's own folder.
export function save(name, text) {
  const link = document.createElement('a');
  const url = URL.createObjectURL(new Blob([text], {type: 'application/json'}));
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

async function open(file) {
  // Not read at all when it is far too large: a text of one letter too many says the same to the program.
  const text = file.size > largestBytes ? ' '.repeat(largestBytes + 1) : await file.text().catch(() => '');
  callWith('file_opened', file.name.replaceAll(mark, ' ') + mark + text);
  wake();
}

function chooser() {
  const input = document.createElement('input');
  input.type = 'file';
  input.id = 'file';
  input.hidden = true;
  input.accept = '.json,.saltrafter,application/json';
  input.addEventListener('change', async () => {
    const [file] = input.files;
    if (file) await open(file);
    input.value = '';  // the same file may be chosen again
  });
  document.body.append(input);
  return input;
}

// files(): the calls of main.cpp; from then on a file that is dropped anywhere is opened and never navigated to.
export function files() {
  const input = chooser();
  for (const name of ['dragenter', 'dragover', 'drop']) {
    document.addEventListener(name, event => event.preventDefault());
  }
  document.addEventListener('drop', event => {
    const [file] = event.dataTransfer?.files ?? [];
    if (file) open(file);
  });
  return {download: save, pick: () => input.click()};
}
