import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { ResolvedOptions } from "../../options/options.js";
import { insideOutline } from "./picture-outline.js";
import { type PictureOnGrid, smallLuminance } from "./picture-rows.js";

/** Side of the cells in which the picture is compared, in pixels of the grid. */
const CELL_PX = 32;
const BINS = 64;

/**
 * The part of a picture, of at most `sidePx` × `sidePx` pixels, whose tones are most like those of the whole. It has the smallest
 * area between the two distributions of L* (the first Wasserstein distance). Of equal parts, the one nearest to the middle wins.
 * The quality of a halftone depends on tones, so a part that is all sky says little. Pixels outside an oval or a border do not
 * count.
 */
export function typicalPart(
  picture: PictureOnGrid,
  sidePx: number,
  options: ResolvedOptions,
): PixelRectangle {
  const { frame } = picture;
  const { placement } = frame;
  const area = insideOutline(frame, options) ?? placement;
  const cellColumns = Math.ceil(placement.columns / CELL_PX);
  const cellRows = Math.ceil(placement.rows / CELL_PX);
  const along = cellsOf(area.left - placement.left, area.columns, placement.columns);
  const across = cellsOf(area.top - placement.top, area.rows, placement.rows);
  const within = { left: along.first, top: across.first, columns: along.count, rows: across.count };
  const bins = Uint8Array.from(smallLuminance(picture, cellColumns, cellRows), binOf);
  const whole = shares(bins, cellColumns, within);
  const columns = Math.min(area.columns, sidePx);
  const rows = Math.min(area.rows, sidePx);
  const partColumns = Math.min(along.count, Math.ceil(columns / CELL_PX));
  const partRows = Math.min(across.count, Math.ceil(rows / CELL_PX));
  const spare = { columns: along.count - partColumns, rows: across.count - partRows };
  let best = { left: 0, top: 0, distance: Number.POSITIVE_INFINITY, fromMiddle: Number.POSITIVE_INFINITY };
  for (let down = 0; down <= spare.rows; down++) {
    for (let right = 0; right <= spare.columns; right++) {
      const [left, top] = [within.left + right, within.top + down];
      const part = shares(bins, cellColumns, { left, top, columns: partColumns, rows: partRows });
      const distance = areaBetween(part, whole);
      const fromMiddle = Math.hypot(right - spare.columns / 2, down - spare.rows / 2);
      if (distance < best.distance || (distance === best.distance && fromMiddle < best.fromMiddle)) {
        best = { left, top, distance, fromMiddle };
      }
    }
  }
  const left = startWithin(placement.left + best.left * CELL_PX, columns, area.left, area.columns);
  const top = startWithin(placement.top + best.top * CELL_PX, rows, area.top, area.rows);
  return { left: options.mirror ? frame.columns - left - columns : left, top, columns, rows };
}

/** The cells that lie completely within a range; at least one. The last cell of the length counts as complete. */
function cellsOf(
  from: number,
  count: number,
  length: number,
): { readonly first: number; readonly count: number } {
  const last = Math.ceil(length / CELL_PX) - 1;
  const first = Math.min(last, Math.ceil(from / CELL_PX));
  const end = from + count >= length ? last + 1 : Math.floor((from + count) / CELL_PX);
  return { first, count: Math.max(1, end - first) };
}

/** The start nearest to `at` of a range of `length` that stays within another range. */
const startWithin = (at: number, length: number, from: number, whole: number): number =>
  Math.max(from, Math.min(at, from + whole - length));

const binOf = (luminance: number): number =>
  Math.min(BINS - 1, Math.floor((lightnessFromLuminance(luminance) * BINS) / 100));

/** Share of the cells of a part in each bin. */
function shares(
  bins: Uint8Array,
  stride: number,
  { left, top, columns, rows }: PixelRectangle,
): Float64Array {
  const counts = new Float64Array(BINS);
  for (let y = top; y < top + rows; y++) {
    for (let x = left; x < left + columns; x++) counts[bins[y * stride + x]]++;
  }
  return counts.map((count) => count / (columns * rows));
}

/** Area between two cumulative distributions, in bins. */
function areaBetween(a: Float64Array, b: Float64Array): number {
  let lead = 0;
  let area = 0;
  for (let n = 0; n < BINS; n++) {
    lead += a[n] - b[n];
    area += Math.abs(lead);
  }
  return area;
}
