import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import type { PictureSize } from "./preview-size.js";

export interface Place {
  readonly left: number;
  readonly top: number;
}

/** The centred window must keep at least this share of the detail. */
const WORTH_CENTRING = 0.95;

/**
 * The place with the most detail in a picture: the window of the given size in which lightness differs most between neighbouring
 * cells, moved so that the detail is in its middle. Cells average over halftone dots, which are no detail of the picture. Without
 * detail it is the middle of the picture.
 *
 * @param luminance row-major luminance factors
 * @param cellPx side of a cell, in pixels of the picture
 */
export function mostDetailed(
  luminance: ArrayLike<number>,
  columns: number,
  rows: number,
  crop: PictureSize,
  cellPx: number,
): Place {
  const cells = detailOfCells(cellsOf(luminance, columns, rows, cellPx));
  const window = {
    columns: Math.min(cells.columns, Math.max(1, Math.round(crop.columns / cellPx))),
    rows: Math.min(cells.rows, Math.max(1, Math.round(crop.rows / cellPx))),
  };
  const detailWithin = windowSums(cells, window);
  const best = richest(detailWithin, cells.columns - window.columns, cells.rows - window.rows);
  const max = detailWithin(best.left, best.top);
  const centred = centredOnDetail(cells, window, best);
  const isWorthIt = detailWithin(centred.left, centred.top) >= WORTH_CENTRING * max;
  const { left, top } = isWorthIt ? centred : best;
  const [lastLeft, lastTop] = [Math.max(0, columns - crop.columns), Math.max(0, rows - crop.rows)];
  if (max === 0) return { left: Math.floor(lastLeft / 2), top: Math.floor(lastTop / 2) };
  return { left: Math.min(left * cellPx, lastLeft), top: Math.min(top * cellPx, lastTop) };
}

/** A value for each cell, row-major. */
interface Cells extends PictureSize {
  readonly values: Float64Array;
}

/** The window with the most detail; of equal ones the first from the top left. */
function richest(
  detailWithin: (left: number, top: number) => number,
  lastLeft: number,
  lastTop: number,
): Place {
  let best = { left: 0, top: 0 };
  let max = Number.NEGATIVE_INFINITY;
  for (let top = 0; top <= lastTop; top++) {
    for (let left = 0; left <= lastLeft; left++) {
      const detail = detailWithin(left, top);
      if (detail <= max) continue;
      max = detail;
      best = { left, top };
    }
  }
  return best;
}

/** The window moved to the centre of its detail, within the picture. */
function centredOnDetail({ columns, rows, values }: Cells, window: PictureSize, { left, top }: Place): Place {
  let [sum, sumX, sumY] = [0, 0, 0];
  for (let y = top; y < top + window.rows; y++) {
    for (let x = left; x < left + window.columns; x++) {
      const here = values[y * columns + x];
      sum += here;
      sumX += here * (x + 0.5);
      sumY += here * (y + 0.5);
    }
  }
  if (sum === 0) return { left, top };
  const within = (start: number, last: number): number => Math.min(last, Math.max(0, Math.round(start)));
  return {
    left: within(sumX / sum - window.columns / 2, columns - window.columns),
    top: within(sumY / sum - window.rows / 2, rows - window.rows),
  };
}

/** Mean lightness of the complete cells. A picture smaller than a cell is one cell. */
function cellsOf(luminance: ArrayLike<number>, columns: number, rows: number, cellPx: number): Cells {
  const across = Math.max(1, Math.floor(columns / cellPx));
  const down = Math.max(1, Math.floor(rows / cellPx));
  const sums = new Float64Array(across * down);
  const counts = new Float64Array(across * down);
  for (let y = 0; y < Math.min(rows, down * cellPx); y++) {
    const cellRow = Math.floor(y / cellPx) * across;
    for (let x = 0; x < Math.min(columns, across * cellPx); x++) {
      const cell = cellRow + Math.floor(x / cellPx);
      sums[cell] += luminance[y * columns + x];
      counts[cell]++;
    }
  }
  const values = sums.map((sum, cell) => lightnessFromLuminance(Math.max(0, sum / counts[cell])));
  return { columns: across, rows: down, values };
}

/** Differences of each cell to its right and lower neighbours. Each of the two cells gets half. */
function detailOfCells({ columns, rows, values }: Cells): Cells {
  const detail = new Float64Array(columns * rows);
  const differ = (cell: number, other: number): void => {
    const half = Math.abs(values[cell] - values[other]) / 2;
    detail[cell] += half;
    detail[other] += half;
  };
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const cell = y * columns + x;
      if (x + 1 < columns) differ(cell, cell + 1);
      if (y + 1 < rows) differ(cell, cell + columns);
    }
  }
  // Whole thousandths of an L*: sums are exact, so rounding never decides between equal windows.
  return { columns, rows, values: detail.map((value) => Math.round(1000 * value)) };
}

/** Sums over windows by their top left cell, from a summed-area table. */
function windowSums({ columns, rows, values }: Cells, window: PictureSize) {
  const stride = columns + 1;
  const sums = new Float64Array(stride * (rows + 1));
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const at = (y + 1) * stride + x + 1;
      sums[at] = values[y * columns + x] + sums[at - 1] + sums[at - stride] - sums[at - stride - 1];
    }
  }
  return (left: number, top: number): number => {
    const above = top * stride + left;
    const below = (top + window.rows) * stride + left;
    return sums[below + window.columns] - sums[above + window.columns] - sums[below] + sums[above];
  };
}
