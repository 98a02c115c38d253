import { bytesPerRow, packRow, unpackRow } from "../core/packed-bits.js";
import { type BandLoop, bandHalftone, type RowLoop, rowByRow } from "./band.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";

/** Whether rows of this size are closed: those of a whole ring, not of a part. */
export const isRing = ({ columns }: BandWork, { ringColumns }: HalftoneSettings): boolean =>
  columns === ringColumns;

/** A row loop whose state can be turned round the ring. */
export interface TurningLoop extends RowLoop {
  /** Moves the error for column x + `by` to column x, round the row. */
  readonly turn: (by: number) => void;
}

/** A halftone whose rows pass error down: flat, or round a ring. */
export function diffusionHalftone(
  loop: TurningLoop,
  work: BandWork,
  settings: HalftoneSettings,
): BandHalftone {
  const rows = rowByRow(loop, work, settings);
  const bands = isRing(work, settings) ? onRing(rows, loop.turn, work.columns, settings.levels) : rows;
  return bandHalftone(work, bands, 0, settings.levels);
}

/** The golden section: as a step round a circle it spreads any number of stops most evenly. */
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Column at which the scan of row y of a ring starts. */
const ringStart = (y: number, columns: number): number =>
  Math.floor((y * GOLDEN - Math.floor(y * GOLDEN)) * columns);

/**
 * Error diffusion round a ring. Error goes round the ends of a row to the rows below, but each row needs a first pixel, decided
 * before its neighbour behind. If that pixel were always in the same column, its texture would show as a seam. So each row
 * starts in another column. The rest at the end of a row goes to its intended column, one row down, and the mean stays. Ours.
 *
 * @param loop scans a row from end to end and passes error round the ends
 * @param turn see `TurningLoop`
 */
function onRing(loop: BandLoop, turn: TurningLoop["turn"], columns: number, levels: number): BandLoop {
  const stride = bytesPerRow(columns, levels);
  const turned = new Int16Array(columns);
  const packedTurned = new Uint8Array(stride);
  const bits = new Uint8Array(2 * columns);
  let start = 0;

  return {
    run: (fractions, packed, y, rows) => {
      for (let row = 0; row < rows; row++) {
        const next = ringStart(y + row, columns);
        turn((next - start + columns) % columns);
        start = next;
        const from = row * columns;
        turned.set(fractions.subarray(from + start, from + columns));
        turned.set(fractions.subarray(from, from + start), columns - start);
        loop.run(turned, packedTurned, y + row, 1);
        if (levels > 2) {
          packed.set(packedTurned.subarray(columns - start), row * stride);
          packed.set(packedTurned.subarray(0, columns - start), row * stride + start);
          continue;
        }
        // Two copies in sequence: the row from its true first column is in the middle.
        unpackRow(packedTurned, 0, columns, bits, 0);
        bits.copyWithin(columns, 0, columns);
        packRow(bits, columns - start, columns, packed, row * stride);
      }
    },
    restart: () => {
      start = 0;
      loop.restart();
    },
  };
}

/** Rotates the `columns` entries of a row from `first` on: entry i + `by` becomes entry i. */
export function turnRow(row: Int16Array | Int32Array, first: number, columns: number, by: number): void {
  const head = row.slice(first, first + by);
  row.copyWithin(first, first + by, first + columns);
  row.set(head, first + columns - by);
}
