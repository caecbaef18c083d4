// The device's own fonts: measures and draws runs of text that the program's faces lack, on a 2-D canvas.
const widestPx = 4096;  // as core/desk/parts/raster.h says
const tallestEm = 4;

// Some browsers answer with noise, or with white, when a page reads a canvas: better boxes than that.
function readable(context) {
  const canvas = context.canvas;
  canvas.width = canvas.height = 16;
  context.fillStyle = '#fff';
  context.fillRect(0, 0, 16, 8);
  const {data} = context.getImageData(0, 0, 16, 16);
  return data.every((value, at) => at < 512 ? value > 240 : at % 4 < 3 || value < 16);
}

// scriptText(): what the program draws with, or null.
export function scriptText() {
  const context = document.createElement('canvas').getContext('2d', {willReadFrequently: true});
  if (!context || !readable(context)) return null;
  const canvas = context.canvas;
  let last = null;

  function prepare(serif, bold, size, rightToLeft) {
    context.font = `${bold ? 'bold ' : ''}${size}px ${serif ? 'serif' : 'sans-serif'}`;
    context.direction = rightToLeft ? 'rtl' : 'ltr';
    context.textAlign = 'left';
    context.fillStyle = '#fff';
  }

  // What has colours of its own keeps them; letters are white with their shape in alpha, also where clear.
  function read(width, height) {
    const {data} = context.getImageData(0, 0, width, height);
    const coloured = data.some((value, at) => at % 4 < 3 && value < 250 && data[at | 3] > 15);
    for (let at = 0; !coloured && at < data.length; at += 4) data.fill(255, at, at + 3);
    return {coloured, data};
  }

  return {
    // set(...): advance, left, top, width, height in device pixels, and 1 where it is coloured.
    set(text, serif, bold, size, rightToLeft, withPixels) {
      prepare(serif, bold, size, rightToLeft);
      const box = context.measureText(text);
      if (!withPixels) return [box.width];
      // One pixel more on each side, for smoothed edges.
      const tallest = tallestEm * size;
      const left = Math.floor(-box.actualBoundingBoxLeft) - 1;
      const top = Math.min(tallest / 2 | 0, Math.ceil(box.actualBoundingBoxAscent) + 1);
      const within = (value, most) => Math.max(1, Math.min(most, value));
      const width = within(Math.ceil(box.actualBoundingBoxRight) + 1 - left, widestPx);
      const height = within(Math.ceil(box.actualBoundingBoxDescent) + 1 + top, tallest);
      canvas.width = Math.max(canvas.width, width);
      canvas.height = Math.max(canvas.height, height);
      prepare(serif, bold, size, rightToLeft);
      context.clearRect(0, 0, width, height);
      context.fillText(text, -left, top);
      last = read(width, height);
      return [box.width, left, top, width, height, last.coloured ? 1 : 0];
    },
    pixels: () => last.data,
  };
}
