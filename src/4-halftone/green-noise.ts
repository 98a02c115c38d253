import { FRACTION_ONE } from "../core/burn-fraction.js";
import { type GreenNoiseState, greenNoiseRow } from "./green-noise-kernels.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";
import { randomState } from "./random-bits.js";
import { diffusionHalftone, isRing, type TurningLoop, turnRow } from "./ring.js";

/** Error drifts to the sides as in `side-error.ts`; feedback lets a pixel wait for longer, and so it may keep more. */
const MAX_AT_SIDES = 3 * FRACTION_ONE;

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
export function startGreenNoise(work: BandWork, settings: HalftoneSettings): BandHalftone {
  const { columns, memory } = work;
  const ring = isRing(work, settings);
  const simd = ring ? undefined : memory.simd;
  const above = memory.int32(2 * columns);
  const state: GreenNoiseState = {
    simd,
    columns,
    ring,
    clumping: Math.round(FRACTION_ONE * settings.clumping),
    above,
    masks: memory.int16(simd ? columns : 0),
  };
  const lastError = 2 * columns - 2;
  let rowsDone = 0;

  const loop: TurningLoop = {
    runRow: (row) => {
      if (!ring) {
        above[0] = clampedAtSides(above[0]);
        above[lastError] = clampedAtSides(above[lastError]);
      }
      greenNoiseRow(state, row, randomState(settings.seed, rowsDone * columns));
      rowsDone++;
    },
    restart: () => {
      rowsDone = 0;
      above.fill(0);
    },
    turn: (by) => turnRow(above, 0, 2 * columns, 2 * by),
  };
  return diffusionHalftone(loop, work, settings);
}

const clampedAtSides = (error: number): number => Math.min(Math.max(error, -MAX_AT_SIDES), MAX_AT_SIDES);
