import { lightnessFromLuminance } from "../../core/physics/lightness.js";

export interface Place {
  readonly left: number;
  readonly top: number;
}

/** What centring the detail may cost of it. */
const WORTH_CENTRING = 0.95;

/**
 * Where a picture has the most detail: the window of the given size over which lightness differs most between neighbouring
 * cells, moved so that its detail lies in its middle. Cells average over halftone dots, which are no detail of the picture.
 * The middle of a picture without any.
 *
 * @param luminance row-major luminance factors
 * @param cellPx side of a cell, in pixels of the picture
 */
export function mostDetailed(
  luminance: ArrayLike<number>,
  columns: number,
  rows: number,
  crop: { readonly columns: number; readonly rows: number },
  cellPx: number,
): Place {
  const across = Math.max(1, Math.floor(columns / cellPx));
  const down = Math.max(1, Math.floor(rows / cellPx));
  const wide = Math.min(across, Math.max(1, Math.round(crop.columns / cellPx)));
  const high = Math.min(down, Math.max(1, Math.round(crop.rows / cellPx)));
  const detail = cellDetail(cellLightness(luminance, columns, rows, across, down, cellPx), across, down);
  const detailWithin = windowSums(detail, across, down, wide, high);
  const best = richest(detailWithin, across - wide, down - high);
  const most = detailWithin(best.left, best.top);
  const centred = centredOnDetail(detail, across, down, best, wide, high);
  const worth = detailWithin(centred.left, centred.top) >= WORTH_CENTRING * most;
  const { left, top } = worth ? centred : best;
  const [lastLeft, lastTop] = [Math.max(0, columns - crop.columns), Math.max(0, rows - crop.rows)];
  if (most === 0) return { left: Math.floor(lastLeft / 2), top: Math.floor(lastTop / 2) };
  return { left: Math.min(left * cellPx, lastLeft), top: Math.min(top * cellPx, lastTop) };
}

/** The first of the windows with the most detail, from the top left. */
function richest(
  detailWithin: (left: number, top: number) => number,
  lastLeft: number,
  lastTop: number,
): Place {
  let best = { left: 0, top: 0 };
  let most = Number.NEGATIVE_INFINITY;
  for (let top = 0; top <= lastTop; top++) {
    for (let left = 0; left <= lastLeft; left++) {
      const detail = detailWithin(left, top);
      if (detail <= most) continue;
      most = detail;
      best = { left, top };
    }
  }
  return best;
}

/** The window moved so that the centre of its detail is its own, as far as the picture goes. */
function centredOnDetail(
  detail: Float64Array,
  across: number,
  down: number,
  { left, top }: Place,
  wide: number,
  high: number,
): Place {
  let [sum, sumX, sumY] = [0, 0, 0];
  for (let y = top; y < top + high; y++) {
    for (let x = left; x < left + wide; x++) {
      const here = detail[y * across + x];
      sum += here;
      sumX += here * (x + 0.5);
      sumY += here * (y + 0.5);
    }
  }
  if (sum === 0) return { left, top };
  const within = (start: number, last: number): number => Math.min(last, Math.max(0, Math.round(start)));
  return {
    left: within(sumX / sum - wide / 2, across - wide),
    top: within(sumY / sum - high / 2, down - high),
  };
}

function cellLightness(
  luminance: ArrayLike<number>,
  columns: number,
  rows: number,
  across: number,
  down: number,
  cellPx: number,
): Float64Array {
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
  return sums.map((sum, cell) => lightnessFromLuminance(Math.max(0, sum / counts[cell])));
}

/** Differences of each cell to its right and lower neighbours, half to either. */
function cellDetail(lightness: Float64Array, across: number, down: number): Float64Array {
  const detail = new Float64Array(across * down);
  const differ = (cell: number, other: number): void => {
    const half = Math.abs(lightness[cell] - lightness[other]) / 2;
    detail[cell] += half;
    detail[other] += half;
  };
  for (let y = 0; y < down; y++) {
    for (let x = 0; x < across; x++) {
      const cell = y * across + x;
      if (x + 1 < across) differ(cell, cell + 1);
      if (y + 1 < down) differ(cell, cell + across);
    }
  }
  // In thousandths of an L*, whole, so that sums are exact and rounding never chooses between equal windows.
  return detail.map((value) => Math.round(1000 * value));
}

/** Sums over windows of wide × high cells by their top left cell, from a summed-area table. */
function windowSums(detail: Float64Array, across: number, down: number, wide: number, high: number) {
  const stride = across + 1;
  const sums = new Float64Array(stride * (down + 1));
  for (let y = 0; y < down; y++) {
    for (let x = 0; x < across; x++) {
      const at = (y + 1) * stride + x + 1;
      sums[at] = detail[y * across + x] + sums[at - 1] + sums[at - stride] - sums[at - stride - 1];
    }
  }
  return (left: number, top: number): number => {
    const [above, below] = [top * stride + left, (top + high) * stride + left];
    return sums[below + wide] - sums[above + wide] - sums[below] + sums[above];
  };
}
