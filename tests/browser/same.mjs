// A picture as SVG against the same as PNG: equally large, and equal to the
// eye: text, lines and marks grow alike.

import { evaluated } from "./browser.mjs";

// Side of the blocks that are compared, pixels of a frame 1080 high or wide: two
// painters never agree on single pixels.
const BLOCK = 12;
// Most that the mean of a block may differ, of 255. Browsers set text on whole
// pixels, which comes to 34; strokes or letters of another size to 100 and more.
const MOST = 45;

// The faults of a pair; `addresses` are of the SVG and of the PNG.
export async function same(tab, addresses) {
  return evaluated(tab, `(${compared})(${JSON.stringify(addresses)}, ${BLOCK}, ${MOST})`);
}

// Runs inside the browser.
async function compared(addresses, block, most) {
  const images = await Promise.all(addresses.map((address) => new Promise((done, failed) => {
    const image = new Image();
    image.onload = () => done(image);
    image.onerror = () => failed(new Error(`${address} is no picture`));
    image.src = address;
  })));
  const sizes = images.map((image) => `${image.naturalWidth} by ${image.naturalHeight}`);
  if (sizes[0] !== sizes[1]) return [`the SVG is ${sizes[0]}, the PNG ${sizes[1]}`];
  const { naturalWidth: wide, naturalHeight: high } = images[0];
  const side = block * Math.round(Math.min(wide, high) / 1080);
  const [columns, rows] = [Math.ceil(wide / side), Math.ceil(high / side)];
  // Painted at full size on white, then averaged block by block.
  const means = images.map((image) => {
    const canvas = new OffscreenCanvas(wide, high);
    const pen = canvas.getContext("2d", { willReadFrequently: true });
    pen.fillStyle = "#fff";
    pen.fillRect(0, 0, wide, high);
    pen.drawImage(image, 0, 0);
    const { data } = pen.getImageData(0, 0, wide, high);
    const sums = new Float64Array(columns * rows * 3);
    for (let y = 0; y < high; y++) {
      for (let x = 0; x < wide; x++) {
        const [from, to] = [4 * (y * wide + x), 3 * (Math.floor(y / side) * columns + Math.floor(x / side))];
        for (let k = 0; k < 3; k++) sums[to + k] += data[from + k];
      }
    }
    return sums.map((sum) => sum / (side * side));
  });
  let worst = 0;
  means[0].forEach((mean, i) => (worst = Math.max(worst, Math.abs(mean - means[1][i]))));
  return worst > most ? [`SVG and PNG differ by ${worst.toFixed(0)} of 255 in a block of ${side} pixels`] : [];
}
