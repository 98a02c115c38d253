import { bytesPerPackedRow } from "../core/packed-bits.js";
import { type BandLoop, isBackward } from "./band.js";
import type { Scan } from "./method.js";
import { foldSides, holdSides } from "./side-error.js";

/** Floyd and Steinberg's stencil in one loop: the bits of `plainDiffusion`, sooner. */
export function plainFloydSteinberg(columns: number, scan: Scan): BandLoop {
  const bytes = bytesPerPackedRow(columns);
  /** Error for the next row, column 0 at 1. */
  const received = new Int16Array(1 + columns + 1);
  return {
    run: (fractions, packed, y, rows) => {
      packed.fill(0, 0, rows * bytes);
      for (let row = 0; row < rows; row++) {
        runRow(fractions, row * columns, columns, packed, row * bytes, received, isBackward(scan, y + row));
      }
    },
    restart: () => {
      received.fill(0);
    },
  };
}

function runRow(
  fractions: Int16Array,
  from: number,
  columns: number,
  packed: Uint8Array,
  to: number,
  received: Int16Array,
  backward: boolean,
): void {
  holdSides(received, 1, columns);
  const step = backward ? -1 : 1;
  const first = backward ? columns - 1 : 0;
  let ahead = 0;
  /** What the pixels so far hand to the one below the last of them, and to the one below the next. */
  let below = 0;
  let belowNext = 0;
  let x = first;
  for (let n = 0; n < columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const wanted = (fraction & ~bare) + received[x + 1] + ahead;
    const burned = (8191 - wanted) >> 31;
    const error = wanted - (burned & 16384);
    packed[to + (x >> 3)] |= (burned & ~bare & 128) >> (x & 7);
    ahead = (7 * error + 8) >> 4;
    const behind = (3 * error + 8) >> 4;
    const front = (error + 8) >> 4;
    received[x + 1 - step] = below + behind;
    below = belowNext + error - ahead - behind - front;
    belowNext = front;
  }
  received[x + 1 - step] = below;
  received[x + 1] = belowNext + ahead;
  foldSides(received, 1, columns);
}
