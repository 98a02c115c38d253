import { reachAlong } from "./exposure.js";
import { clamp } from "./page-parts.js";

/**
 * @typedef {import("./exposure.js").Burn} Burn
 * @typedef {{ left: number, top: number, columns: number, rows: number }} Rectangle
 * @typedef {{ region: Rectangle, isWhole: boolean, columns: number, rows: number, levels: number, pitchAlongMm: number,
 *   pitchAcrossMm: number, mirror: boolean, start: { x: number, y: number }, burn: Burn }} Dots columns and rows are the piece's
 * @typedef {Rectangle & { x: number, y: number, seenLeft: number }} View in burn pixels: left as in the bitmap, seenLeft and the
 *   middle x and y as seen
 */

/**
 * A view as near to a place as the known dots allow. At the sides of a part, what lies beyond would burn into it and is not
 * known.
 *
 * @param {Dots} dots @param {number} sidePx in pixels of the finer pitch @param {{ x: number, y: number }} middle as seen
 * @returns {View}
 */
export function viewAt(dots, sidePx, middle) {
  const { region, burn, mirror, pitchAlongMm, pitchAcrossMm } = dots;
  const sideMm = sidePx * Math.min(pitchAlongMm, pitchAcrossMm);
  const columns = clamp(Math.round(sideMm / pitchAlongMm), 1, region.columns);
  const rows = clamp(Math.round(sideMm / pitchAcrossMm), 1, region.rows);
  const { before, after } = reachAlong(burn);
  const inset = dots.isWhole ? 0 : Math.max(before, after, burn.across.width);
  const [sides, ends] = [inset + columns / 2, inset + rows / 2];
  const regionLeft = mirror ? dots.columns - region.left - region.columns : region.left;
  const x = clamp(middle.x, regionLeft + sides, regionLeft + region.columns - sides);
  const y = clamp(middle.y, region.top + ends, region.top + region.rows - ends);
  const seenLeft = Math.round(x - columns / 2);
  const left = mirror ? dots.columns - seenLeft - columns : seenLeft;
  return { left, top: Math.round(y - rows / 2), columns, rows, x, y, seenLeft };
}

/**
 * Power levels in a view and around it, 0..1, as far as they reach into it.
 *
 * @param {CanvasRenderingContext2D} on where they are read @param {HTMLImageElement} picture of the dots
 * @param {Dots} dots @param {View} view
 */
export function levelsIn(on, picture, dots, view) {
  const { region, burn } = dots;
  const { before, after } = reachAlong(burn);
  const wide = view.columns + before + after;
  const high = view.rows + burn.across.width - 1;
  on.canvas.width = wide;
  on.canvas.height = high;
  on.fillStyle = "#fff";
  on.fillRect(0, 0, wide, high);
  on.imageSmoothingEnabled = false;
  const turns = burn.closed && dots.isWhole ? [-1, 0, 1] : [0];
  for (const turn of turns) {
    const x = before - (view.left - region.left) + turn * dots.columns;
    on.drawImage(picture, x, burn.across.before - (view.top - region.top));
  }
  const { data } = on.getImageData(0, 0, wide, high);
  const full = dots.levels - 1;
  return Float32Array.from(
    { length: wide * high },
    (_, i) => Math.round(full * (1 - data[4 * i] / 255)) / full,
  );
}

/** What the loupe says. @param {Dots} dots @param {View} view @param {{ burnedShare: number, luminance: number }} seen */
export function viewWords({ pitchAlongMm, pitchAcrossMm }, { x, y, columns, rows }, seen) {
  const [atX, atY, wide, high] = [
    x * pitchAlongMm,
    y * pitchAcrossMm,
    columns * pitchAlongMm,
    rows * pitchAcrossMm,
  ].map((mm) => mm.toFixed(1));
  const { luminance } = seen;
  const lightness = luminance > 216 / 24389 ? 116 * Math.cbrt(luminance) - 16 : (luminance * 24389) / 27;
  return `${atX} mm from the left, ${atY} mm from the top; a view of ${wide} × ${high} mm, in which ${Math.round(100 * seen.burnedShare)} % of the pixels burn: L* ${lightness.toFixed(1)} on average.`;
}
