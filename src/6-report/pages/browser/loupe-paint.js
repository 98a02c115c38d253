import { reachAlong } from "./exposure.js";

/**
 * @typedef {import("./loupe-view.js").Dots} Dots
 * @typedef {import("./loupe-view.js").View} View
 * @typedef {(i: number, x: number, y: number, rgba: Uint8ClampedArray, at: number) => void} Paint of sample i, at (x, y)
 */

/** @param {HTMLCanvasElement} canvas @param {Dots} dots @param {View} view @param {[number, number]} samples of a pixel @param {Paint} paint */
function fill(canvas, dots, { columns, rows }, [samplesAlong, samplesAcross], paint) {
  canvas.width = columns * samplesAlong;
  canvas.height = rows * samplesAcross;
  canvas.style.aspectRatio = `${columns * dots.pitchAlongMm} / ${rows * dots.pitchAcrossMm}`;
  const image = new ImageData(canvas.width, canvas.height);
  for (let y = 0, i = 0; y < canvas.height; y++) {
    for (let x = 0; x < canvas.width; x++, i++) {
      const at = 4 * (y * canvas.width + (dots.mirror ? canvas.width - 1 - x : x));
      paint(i, x, y, image.data, at);
      image.data[at + 3] = 255;
    }
  }
  canvas.getContext("2d")?.putImageData(image, 0, 0);
}

/**
 * The pixels that burn; returns the share of them.
 *
 * @param {HTMLCanvasElement} canvas @param {Dots} dots @param {View} view @param {Float32Array} levels see levelsIn
 */
export function paintBits(canvas, dots, view, levels) {
  const { before, after } = reachAlong(dots.burn);
  const stride = view.columns + before + after;
  let burned = 0;
  fill(canvas, dots, view, [1, 1], (_, x, y, rgba, at) => {
    const level = levels[(y + dots.burn.across.before) * stride + x + before];
    if (level > 0) burned++;
    rgba.fill(255 * (1 - level), at, at + 3);
  });
  return burned / (view.columns * view.rows);
}

/**
 * The marks that a dose leaves; returns their mean luminance factor.
 *
 * @param {HTMLCanvasElement} canvas @param {Dots} dots @param {View} view @param {Float32Array} dose
 */
export function paintMarks(canvas, dots, view, dose) {
  const { samplesAlong, samplesAcross, inverseDose, lastDose, luminance, colours } = dots.burn;
  const codes = Uint8Array.from(colours.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
  const [first, last] = inverseDose;
  const steps = luminance.length - 1;
  let sum = 0;
  fill(canvas, dots, view, [samplesAlong, samplesAcross], (i, _x, y, rgba, at) => {
    const row = view.top + Math.floor(y / samplesAcross);
    const perDose = first + ((last - first) * row) / Math.max(1, dots.rows - 1);
    const step = Math.round(Math.min(1, dose[i] / perDose / lastDose) * steps);
    sum += luminance[step] / 1e5;
    for (let c = 0; c < 3; c++) rgba[at + c] = codes[3 * step + c];
  });
  return sum / dose.length;
}
