import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { SimdKernels } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import type { BandRow } from "./band.js";
import { nearestLevel } from "./levels.js";
import { randomBits, randomState } from "./random-bits.js";
import { GREY_STRIDE } from "./variable-weights.js";

/** Column 0 in the row of received error. */
export const FIRST = 1;

/** A picture's diffusion between two rows. */
export interface VariableState {
  readonly simd: SimdKernels | undefined;
  readonly columns: number;
  /** [256 × GREY_STRIDE] see `weightTable`. */
  readonly table: Int16Array;
  readonly noisy: boolean;
  /** [levels] Burn fractions of the power levels. */
  readonly codes: Int16Array;
  /** Error for the next row, column 0 at `FIRST`. 32 bits: with levels, a pixel may receive more than a whole step. */
  readonly received: Int32Array;
  /** [columns] Buffer of the vector form. */
  readonly masks: Int16Array;
}

/** Halftones one row. @param random state of the random numbers before the row */
export function diffuseVariableRow(state: VariableState, row: BandRow, random: number): void {
  const { simd, columns, table, noisy, received, masks } = state;
  if (simd) {
    simd.diffuseVariableRow(
      table.byteOffset,
      noisy ? 1 : 0,
      random,
      row.fractions.byteOffset + 2 * row.from,
      row.packed.byteOffset + row.to,
      columns,
      row.backward ? 1 : 0,
      received.byteOffset + 4 * FIRST,
      masks.byteOffset,
    );
  } else if (state.codes.length > 2) diffuseLevels(state, row, random);
  else diffuseBits(state, row, random);
}

function diffuseBits({ columns, table, noisy, received }: VariableState, row: BandRow, random: number): void {
  const { fractions, from, packed, to, backward } = row;
  packed.fill(0, to, to + bytesPerPackedRow(columns));
  const step = backward ? -1 : 1;
  let x = backward ? columns - 1 : 0;
  let forNext = 0;
  let below = 0;
  for (let n = 1; n <= columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const asked = fraction & ~bare;
    const at = GREY_STRIDE * ((asked * 255 + 8192) >> 14);
    const wanted = asked + received[x + FIRST] + forNext;
    const noise = noisy ? (table[at + 2] * (randomBits(randomState(random, n)) >>> 17)) >> 16 : 0;
    const burned = (8191 + noise - wanted) >> 31;
    packed[to + (x >> 3)] |= (burned & ~bare & 128) >> (x & 7);
    const error = wanted - (burned & 16384);
    const behind = (error * table[at + 1] + 8192) >> 14;
    received[x + FIRST - step] = below + behind;
    forNext = (error * table[at] + 8192) >> 14;
    below = error - forNext - behind;
  }
  received[x + FIRST - step] = below;
  received[x + FIRST] = forNext;
}

/** The same with more than two levels: `packed` takes the level of each pixel. */
function diffuseLevels(state: VariableState, row: BandRow, random: number): void {
  const { columns, table, noisy, codes, received } = state;
  const { fractions, from, packed, to, backward } = row;
  const steps = codes.length - 1;
  const step = backward ? -1 : 1;
  let x = backward ? columns - 1 : 0;
  let forNext = 0;
  let below = 0;
  for (let n = 1; n <= columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const asked = fraction & ~bare;
    const between = (asked * steps) & (FRACTION_ONE - 1);
    const at = GREY_STRIDE * ((between * 255 + 8192) >> 14);
    const wanted = asked + received[x + FIRST] + forNext;
    const noise = noisy ? (table[at + 2] * (randomBits(randomState(random, n)) >>> 17)) >> 16 : 0;
    const level = nearestLevel(wanted, steps, noise);
    packed[to + x] = level & ~bare;
    const error = wanted - codes[level];
    const behind = (error * table[at + 1] + 8192) >> 14;
    received[x + FIRST - step] = below + behind;
    forNext = (error * table[at] + 8192) >> 14;
    below = error - forNext - behind;
  }
  received[x + FIRST - step] = below;
  received[x + FIRST] = forNext;
}
