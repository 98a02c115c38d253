import type { Rectangle } from "../6-report/canvas.js";
import { lightnessFromLuminance } from "../core/lightness.js";
import { type FramedPhoto, smallLuminance } from "./luminance.js";

/** The picture is looked at in cells of this side, in pixels of the grid. */
const CELL_PX = 32;
const BINS = 64;

/**
 * The part of a picture, of at most `sidePx` × `sidePx` pixels, whose tones are most like those of the whole: the least area
 * between the two distributions of L* (the first Wasserstein distance), the one nearest the middle where several are alike.
 * Tones decide how a halftone does, so that a part which is all sky says little.
 */
export function typicalPart(framed: FramedPhoto, sidePx: number, mirror: boolean): Rectangle {
  const { frame } = framed;
  const { placement } = frame;
  const columns = Math.min(placement.columns, sidePx);
  const rows = Math.min(placement.rows, sidePx);
  const cellColumns = Math.ceil(placement.columns / CELL_PX);
  const cellRows = Math.ceil(placement.rows / CELL_PX);
  const bins = Uint8Array.from(smallLuminance(framed, cellColumns, cellRows), binOf);
  const whole = shares(bins, cellColumns, { left: 0, top: 0, columns: cellColumns, rows: cellRows });
  const partColumns = Math.ceil(columns / CELL_PX);
  const partRows = Math.ceil(rows / CELL_PX);
  const middle = { left: (cellColumns - partColumns) / 2, top: (cellRows - partRows) / 2 };
  let best = { left: 0, top: 0, distance: Number.POSITIVE_INFINITY, fromMiddle: Number.POSITIVE_INFINITY };
  for (let top = 0; top + partRows <= cellRows; top++) {
    for (let left = 0; left + partColumns <= cellColumns; left++) {
      const part = shares(bins, cellColumns, { left, top, columns: partColumns, rows: partRows });
      const distance = areaBetween(part, whole);
      const fromMiddle = Math.hypot(left - middle.left, top - middle.top);
      if (distance < best.distance || (distance === best.distance && fromMiddle < best.fromMiddle)) {
        best = { left, top, distance, fromMiddle };
      }
    }
  }
  const left = placement.left + Math.min(best.left * CELL_PX, placement.columns - columns);
  const top = placement.top + Math.min(best.top * CELL_PX, placement.rows - rows);
  return { left: mirror ? frame.columns - left - columns : left, top, columns, rows };
}

const binOf = (luminance: number): number =>
  Math.min(BINS - 1, Math.floor((lightnessFromLuminance(luminance) * BINS) / 100));

/** Share of the cells of a part in each bin. */
function shares(bins: Uint8Array, stride: number, { left, top, columns, rows }: Rectangle): Float64Array {
  const counts = new Float64Array(BINS);
  for (let y = top; y < top + rows; y++) {
    for (let x = left; x < left + columns; x++) counts[bins[y * stride + x]]++;
  }
  return counts.map((count) => count / (columns * rows));
}

/** Area between two cumulated distributions, in bins. */
function areaBetween(a: Float64Array, b: Float64Array): number {
  let lead = 0;
  let area = 0;
  for (let n = 0; n < BINS; n++) {
    lead += a[n] - b[n];
    area += Math.abs(lead);
  }
  return area;
}
