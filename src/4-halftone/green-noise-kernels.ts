import type { SimdKernels } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import type { BandRow } from "./band.js";
import { randomBits, randomState } from "./random-bits.js";

/** A picture's diffusion between two rows. */
export interface GreenNoiseState {
  readonly simd: SimdKernels | undefined;
  readonly columns: number;
  /** Whether the last pixel of a row is a neighbour of the first. */
  readonly ring: boolean;
  /** Output feedback h in 16384ths. */
  readonly clumping: number;
  /** [columns × 2] Error and output (burned less wanted) of the row above. Errors may exceed a whole step. */
  readonly above: Int32Array;
  /** [columns] Buffer of the vector form. */
  readonly masks: Int16Array;
}

/** Halftones one row. @param random state of the random numbers before the row */
export function greenNoiseRow(state: GreenNoiseState, row: BandRow, random: number): void {
  const { simd, columns, clumping, above, masks } = state;
  if (!simd) {
    diffuseRow(state, row, random);
    return;
  }
  simd.greenNoiseRow(
    clumping,
    random,
    row.fractions.byteOffset + 2 * row.from,
    row.packed.byteOffset + row.to,
    columns,
    row.backward ? 1 : 0,
    above.byteOffset,
    masks.byteOffset,
  );
}

function diffuseRow({ columns, ring, clumping, above }: GreenNoiseState, row: BandRow, random: number): void {
  const { fractions, from, packed, to, backward } = row;
  packed.fill(0, to, to + bytesPerPackedRow(columns));
  const step = backward ? -1 : 1;
  let x = backward ? columns - 1 : 0;
  let errorBehind = 0;
  let outputBehind = 0;
  for (let n = 1; n <= columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const asked = fraction & ~bare;
    const behind = 4096 + (randomBits(randomState(random, n)) >>> 19);
    const wanted = asked + errorBehind + above[2 * x];
    const output = (behind * outputBehind + (16384 - behind) * above[2 * x + 1] + 8192) >> 14;
    const pull = (clumping * output + 8192) >> 14;
    const burned = (8191 - wanted - pull) >> 31;
    packed[to + (x >> 3)] |= (burned & ~bare & 128) >> (x & 7);
    const error = wanted - (burned & 16384);
    errorBehind = (error * behind + 8192) >> 14;
    outputBehind = (burned & 16384) - asked;
    above[2 * x] = error - errorBehind;
    above[2 * x + 1] = outputBehind;
  }
  // The last pixel passes the share of the next pixel to the row below: straight down, on a ring below the next pixel.
  above[2 * (ring ? (x + columns) % columns : x - step)] += errorBehind;
}
