import { bytesPerPackedRow } from "../core/packed-bits.js";
import { type BandLoop, bandHalftone } from "./band.js";
import type { ClassMatrix } from "./class-matrices.js";
import { DotRows, joinDots, type LaidCell, layCell, settleDots, splitDots } from "./dot-diffusion-kernels.js";
import { planDots } from "./dot-plan.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";
import { isRing } from "./ring.js";

/**
 * Dot diffusion: pixels are decided in the order of a class matrix that tiles the plane. Each passes its error to its later
 * neighbours among the eight. A pixel with no later neighbour drops its error. A pixel at the edge drops the shares of its
 * neighbours outside the picture.
 * D. E. Knuth, "Digital halftones by dot diffusion", ACM Trans. Graphics 6(4) (1987), 245–273.
 *
 * A ring holds a whole number of tiles, and no error is lost at its sides.
 *
 * As rows enter, each class is decided down to the last row whose earlier neighbours are known. The result is that of the whole
 * plane at once, some rows later.
 */
export function startDotDiffusion(
  classes: ClassMatrix,
  work: BandWork,
  settings: HalftoneSettings,
): BandHalftone {
  const { columns, rows, bandRows, memory } = work;
  const side = classes.length;
  const ring = isRing(work, settings);
  const cells = planDots(classes).map((cell) => layCell(cell, side, memory));
  const delayRows = Math.max(...cells.map(({ lagRows }) => lagRows));
  const dots = new DotRows(columns, side, bandRows + delayRows + 3, memory);
  const bytes = bytesPerPackedRow(columns);
  /** The next row of each class to decide. */
  const nextRows = Int32Array.from(cells, ({ y }) => y);

  const loop: BandLoop = {
    run(fractions, packed, y, count) {
      const known = Math.min(rows, y + count);
      for (let row = y; row < known; row++) splitDots(dots, fractions, (row - y) * columns, row);
      cells.forEach((cell, k) => {
        const end = Math.min(rows, y + count - cell.lagRows);
        for (; nextRows[k] < end; nextRows[k] += side) {
          settleDots(dots, cell, nextRows[k]);
          if (ring) goRound(dots, cell, nextRows[k]);
        }
      });
      const ready = Math.min(rows, y + count - delayRows);
      for (let row = Math.max(0, y - delayRows); row < ready; row++) {
        joinDots(dots, row, packed, (row - y + delayRows) * bytes);
      }
    },
    restart() {
      cells.forEach(({ y }, k) => {
        nextRows[k] = y;
      });
    },
  };
  return bandHalftone(work, loop, delayRows);
}

/** Moves error from beyond one end of a phase to its other end. */
function goRound(dots: DotRows, { neighbours }: LaidCell, y: number): void {
  const { wanted, tiles } = dots;
  for (const { dy, phase } of neighbours) {
    const first = dots.phaseAt(y + dy, phase);
    wanted[first + tiles - 1] += wanted[first - 1];
    wanted[first] += wanted[first + tiles];
    wanted[first - 1] = 0;
    wanted[first + tiles] = 0;
  }
}
