import { bytesPerRow } from "../core/packed-bits.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";

/** A method's loop over the rows of a band. See `BandHalftone`. */
export interface BandLoop {
  readonly run: (fractions: Int16Array, packed: Uint8Array, y: number, rows: number) => void;
  readonly restart: () => void;
}

/** A row of a band while it is halftoned. One object serves all rows of a picture. */
export interface BandRow {
  /** The row's burn fractions start at `from`. */
  fractions: Int16Array;
  from: number;
  /** The row's bits or levels go to `to` and the bytes after it. */
  packed: Uint8Array;
  to: number;
  /** Row of the picture, negative in a lead-in. A method with a delay sets this and `backward` to the row that it decides. */
  y: number;
  /** Whether the row is scanned from the right. */
  backward: boolean;
}

/** A method's loop over the pixels of one row. Rows come top to bottom. */
export interface RowLoop {
  readonly runRow: (row: BandRow) => void;
  readonly restart: () => void;
}

/** Adds the arrays to a band loop. */
export function bandHalftone(
  { columns, bandRows, memory }: BandWork,
  loop: BandLoop,
  delayRows = 0,
  levels = 2,
): BandHalftone {
  const fractions = memory.int16(bandRows * columns);
  const packed = memory.uint8(bandRows * bytesPerRow(columns, levels));
  return {
    fractions,
    packed,
    delayRows,
    run: (y, rows) => loop.run(fractions, packed, y, rows),
    restart: loop.restart,
  };
}

/** Runs a row loop on each row of a band in turn. */
export function rowByRow(loop: RowLoop, { columns }: BandWork, { scan, levels }: HalftoneSettings): BandLoop {
  const bytes = bytesPerRow(columns, levels);
  const row: BandRow = {
    fractions: new Int16Array(0),
    from: 0,
    packed: new Uint8Array(0),
    to: 0,
    y: 0,
    backward: false,
  };
  return {
    run: (fractions, packed, y, rows) => {
      row.fractions = fractions;
      row.packed = packed;
      for (let k = 0; k < rows; k++) {
        row.from = k * columns;
        row.to = k * bytes;
        row.y = y + k;
        row.backward = isBackward(scan, y + k);
        loop.runRow(row);
      }
    },
    restart: loop.restart,
  };
}

/** Whether row y is scanned from the right. */
export const isBackward = (scan: "serpentine" | "raster", y: number): boolean =>
  scan === "serpentine" && (y & 1) === 1;
