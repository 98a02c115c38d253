import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import { bandHalftone, isBackward } from "./band.js";
import type { BandHalftone, BandSize, HalftoneSettings } from "./method.js";
import { randomBits, randomState } from "./random-bits.js";
import { isRing, onRing, type TurningLoop, turnRow } from "./ring.js";

/**
 * Error diffusion with output feedback: burned pixels attract burned pixels, and blanks attract blanks, so dots clump into
 * clusters whose size grows with `clumping` (h). The feedback moves only the decision and is no part of the error, so the
 * mean stays.
 *
 *     u = x + Σ b·e,   burn when u + h·Σ a·(y − x) ≥ 1/2,   e = u − y
 *
 * R. Levien, "Output dependent feedback in error diffusion halftoning", Proc. IS&T 8th Int. Congress on Advances in
 * Non-Impact Printing Technologies (1992/93), 280–282; D. L. Lau, G. R. Arce and N. C. Gallagher, "Green-noise digital
 * halftoning", Proc. IEEE 86(12) (1998), 2424–2444 (weight jitter). Both filters look at the pixel behind and the pixel
 * above, one half each before jitter; half of that is redrawn for every pixel (b from 1/4 to 3/4), so that no direction is
 * preferred for long. Ours: the fed-back output is centred on the fraction, so that light and dark tones clump alike.
 */
export function startGreenNoise(
  size: BandSize,
  settings: HalftoneSettings,
  memory: KernelMemory,
): BandHalftone {
  const { columns } = size;
  const { scan, seed, clumping } = settings;
  const ring = isRing(size, settings);
  const simd = ring ? undefined : memory.simd;
  const bytes = bytesPerPackedRow(columns);
  const clumpingCode = Math.round(FRACTION_ONE * clumping);
  /** Error and output (burned less wanted) of the row above, two numbers a pixel. Errors may pass a whole step. */
  const above = memory.int32(2 * columns);
  const masks = memory.int16(simd ? columns : 0);
  let rowsDone = 0;

  function runRow(fractions: Int16Array, row: number, packed: Uint8Array, backward: boolean): void {
    if (!ring) {
      above[0] = heldAtSides(above[0]);
      above[2 * columns - 2] = heldAtSides(above[2 * columns - 2]);
    }
    const state = randomState(seed, rowsDone * columns);
    if (simd) {
      simd.greenNoiseRow(
        clumpingCode,
        state,
        fractions.byteOffset + 2 * row * columns,
        packed.byteOffset + row * bytes,
        columns,
        backward ? 1 : 0,
        above.byteOffset,
        masks.byteOffset,
      );
    } else {
      greenNoiseRow(
        clumpingCode,
        state,
        fractions,
        row * columns,
        packed,
        row * bytes,
        backward,
        above,
        ring,
      );
    }
    rowsDone++;
  }

  const loop: TurningLoop = {
    run: (fractions, packed, y, rows) => {
      for (let row = 0; row < rows; row++) runRow(fractions, row, packed, isBackward(scan, y + row));
    },
    restart: () => {
      rowsDone = 0;
      above.fill(0);
    },
    turn: (by) => turnRow(above, 0, 2 * columns, 2 * by),
  };
  return bandHalftone(size, memory, ring ? onRing(columns, loop) : loop);
}

/** Error drifts to the sides as in `side-error.ts`; feedback lets a pixel wait for longer, and so it may keep more. */
function heldAtSides(error: number): number {
  const most = 3 * FRACTION_ONE;
  return Math.min(Math.max(error, -most), most);
}

/** The plain form of `src/simd/green-noise.ts`. */
function greenNoiseRow(
  clumping: number,
  state: number,
  fractions: Int16Array,
  from: number,
  packed: Uint8Array,
  to: number,
  backward: boolean,
  above: Int32Array,
  ring: boolean,
): void {
  const columns = above.length / 2;
  packed.fill(0, to, to + bytesPerPackedRow(columns));
  const step = backward ? -1 : 1;
  let x = backward ? columns - 1 : 0;
  let errorBehind = 0;
  let outputBehind = 0;
  for (let n = 1; n <= columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const asked = fraction & ~bare;
    const behind = 4096 + (randomBits(randomState(state, n)) >>> 19);
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
  // What the last pixel would have handed on along the row goes below it instead, on a ring below the next one.
  above[2 * (ring ? (x + columns) % columns : x - step)] += errorBehind;
}
