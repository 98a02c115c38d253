import { BAND_ROWS, EyeFilter, type SeenGrid } from "./eye-filter.js";
import { copyMirrored, type Mirrored, mirrored, type StridedPlane } from "./mirrored-rows.js";

/** Blurs planes as the eye does. Beyond its edges a plane is extended by mirror images. */
export class EyePlanes {
  private readonly eye: EyeFilter;

  /** @param sidePx side of the filtered square, a power of two: the largest plane and what the eye blurs into it */
  constructor(
    grid: SeenGrid,
    private readonly sidePx: number,
  ) {
    this.eye = new EyeFilter(grid, sidePx);
  }

  /** Filters two planes at once: the cost of one. @param out dense planes [rows × columns] */
  blur(
    [first, second]: readonly [StridedPlane, StridedPlane],
    { columns, rows }: { readonly columns: number; readonly rows: number },
    out: readonly [Float32Array, Float32Array],
  ): void {
    const { eye, sidePx } = this;
    // The plane lies in the middle. A multiple of the rows of a band, so that its rows leave in order.
    const left = Math.floor((sidePx - columns) / 2);
    const top = BAND_ROWS * Math.floor((sidePx - rows) / 2 / BAND_ROWS);
    const fromX = mirrored(-left, columns, sidePx);
    const fromY = mirrored(-top, rows, sidePx);
    seeMirrored(eye, [first, second], fromX, fromY);
    for (let y = 0; y < rows; y += BAND_ROWS) {
      eye.leave(top + y);
      for (let row = 0; row < Math.min(BAND_ROWS, rows - y); row++) {
        const from = row * sidePx + left;
        out[0].set(eye.first.subarray(from, from + columns), (y + row) * columns);
        out[1].set(eye.second.subarray(from, from + columns), (y + row) * columns);
      }
    }
  }
}

/** Two planes enter a filter, extended to all of its square, and are filtered. */
export function seeMirrored(
  eye: EyeFilter,
  [first, second]: readonly [StridedPlane, StridedPlane],
  fromX: Mirrored,
  fromY: Mirrored,
): void {
  for (let y = 0; y < eye.sidePx; y += BAND_ROWS) {
    for (let row = 0; row < BAND_ROWS; row++) {
      copyMirrored(first, fromY.index[y + row], fromX, eye.first, row * eye.sidePx);
      copyMirrored(second, fromY.index[y + row], fromX, eye.second, row * eye.sidePx);
    }
    eye.enter(y);
  }
  eye.filter();
}
