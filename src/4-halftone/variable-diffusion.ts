import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow, bytesPerRow } from "../core/packed-bits.js";
import { bandHalftone, isBackward } from "./band.js";
import { levelCodes, nearestLevel } from "./levels.js";
import type { BandHalftone, BandSize, HalftoneSettings } from "./method.js";
import { randomBits, randomState } from "./random-bits.js";
import { isRing, onRing, type TurningLoop, turnRow } from "./ring.js";
import { goesRound, keptAtSides } from "./side-error.js";
import { LEVEL_STRIDE, weightTable } from "./variable-weights.js";

/**
 * Error diffusion to three neighbours with shares that depend on the pixel's own burn fraction (not on the error it has
 * received): V. Ostromoukhov (2001); with threshold noise, B. Zhou and X. Fang (2003). The noise moves only the decision,
 * not the error, so the mean stays. The pixel straight below takes what rounding leaves.
 *
 * With more than two power levels the shares, and the noise, are those of the fraction's place between its two levels.
 *
 * @param shares [128 × 3] right, down-left, down by folded level
 * @param strength [128] of the threshold noise, 0..1: how much of half a step above the usual threshold
 */
export function startVariableDiffusion(
  shares: Float64Array,
  strength: Float64Array | undefined,
  size: BandSize,
  settings: HalftoneSettings,
  memory: KernelMemory,
): BandHalftone {
  const { columns } = size;
  const { scan, seed, levels } = settings;
  const ring = isRing(size, settings);
  const simd = ring ? undefined : memory.simd;
  const sides = ring ? goesRound : keptAtSides(levels);
  const bytes = bytesPerRow(columns, levels);
  const codes = levelCodes(levels);
  const table = memory.int16(256 * LEVEL_STRIDE);
  weightTable(shares, strength, table);
  /** Error for the next row, column 0 at 1. 32 bits: where levels meet, a pixel may receive more than a whole step. */
  const received = memory.int32(columns + 2);
  const masks = memory.int16(simd ? columns : 0);
  const noisy = strength !== undefined;
  let rowsDone = 0;

  function runRow(fractions: Int16Array, row: number, packed: Uint8Array, backward: boolean): void {
    sides.hold(received, 1, columns);
    const state = randomState(seed, rowsDone * columns);
    if (levels > 2) {
      diffuseLevelRow(
        table,
        noisy,
        state,
        codes,
        fractions,
        row * columns,
        packed,
        row * bytes,
        columns,
        backward,
        received,
      );
    } else if (simd) {
      simd.diffuseVariableRow(
        table.byteOffset,
        noisy ? 1 : 0,
        state,
        fractions.byteOffset + 2 * row * columns,
        packed.byteOffset + row * bytes,
        columns,
        backward ? 1 : 0,
        received.byteOffset + 4,
        masks.byteOffset,
      );
    } else {
      diffuseRow(
        table,
        noisy,
        state,
        fractions,
        row * columns,
        packed,
        row * bytes,
        columns,
        backward,
        received,
      );
    }
    sides.fold(received, 1, columns);
    rowsDone++;
  }

  const loop: TurningLoop = {
    run: (fractions, packed, y, rows) => {
      for (let row = 0; row < rows; row++) runRow(fractions, row, packed, isBackward(scan, y + row));
    },
    restart: () => {
      rowsDone = 0;
      received.fill(0);
    },
    turn: (by) => turnRow(received, 1, columns, by),
  };
  return bandHalftone(size, memory, ring ? onRing(columns, loop, levels) : loop, 0, levels);
}

/** The plain form of `src/simd/variable-diffusion.ts`. */
function diffuseRow(
  table: Int16Array,
  noisy: boolean,
  state: number,
  fractions: Int16Array,
  from: number,
  packed: Uint8Array,
  to: number,
  columns: number,
  backward: boolean,
  received: Int32Array,
): void {
  packed.fill(0, to, to + bytesPerPackedRow(columns));
  const step = backward ? -1 : 1;
  let x = backward ? columns - 1 : 0;
  let forNext = 0;
  let below = 0;
  for (let n = 1; n <= columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const asked = fraction & ~bare;
    const level = LEVEL_STRIDE * ((asked * 255 + 8192) >> 14);
    const wanted = asked + received[x + 1] + forNext;
    const noise = noisy ? (table[level + 2] * (randomBits(randomState(state, n)) >>> 17)) >> 16 : 0;
    const burned = (8191 + noise - wanted) >> 31;
    packed[to + (x >> 3)] |= (burned & ~bare & 128) >> (x & 7);
    const error = wanted - (burned & 16384);
    const behind = (error * table[level + 1] + 8192) >> 14;
    received[x + 1 - step] = below + behind;
    forNext = (error * table[level] + 8192) >> 14;
    below = error - forNext - behind;
  }
  received[x + 1 - step] = below;
  received[x + 1] = forNext;
}

/** The same with more than two levels: `out` takes the level of each pixel. */
function diffuseLevelRow(
  table: Int16Array,
  noisy: boolean,
  state: number,
  codes: Int16Array,
  fractions: Int16Array,
  from: number,
  out: Uint8Array,
  to: number,
  columns: number,
  backward: boolean,
  received: Int32Array,
): void {
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
    const at = LEVEL_STRIDE * ((between * 255 + 8192) >> 14);
    const wanted = asked + received[x + 1] + forNext;
    const noise = noisy ? (table[at + 2] * (randomBits(randomState(state, n)) >>> 17)) >> 16 : 0;
    const level = nearestLevel(wanted, steps, noise);
    out[to + x] = level & ~bare;
    const error = wanted - codes[level];
    const behind = (error * table[at + 1] + 8192) >> 14;
    received[x + 1 - step] = below + behind;
    forNext = (error * table[at] + 8192) >> 14;
    below = error - forNext - behind;
  }
  received[x + 1 - step] = below;
  received[x + 1] = forNext;
}
