import { FRACTION_ONE } from "../core/burn-fraction.js";
import { type GreenNoiseState, greenNoiseRow } from "./green-noise-kernels.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";
import { randomState } from "./random-bits.js";
import { diffusionHalftone, isRing, type TurningLoop, turnRow } from "./ring.js";

/** Limit of the error at the sides, as in `side-error.ts`, but higher: feedback delays decisions, so errors grow larger. */
const MAX_AT_SIDES = 3 * FRACTION_ONE;

/**
 * Error diffusion with output feedback: burned pixels attract burned pixels, and bare pixels attract bare pixels. So dots form
 * clusters, larger with larger `clumping` (h). The feedback moves only the decision, not the error, so the mean stays.
 *
 *     u = x + Σ b·e,   burn when u + h·Σ a·(y − x) ≥ 1/2,   e = u − y
 *
 * R. Levien, "Output dependent feedback in error diffusion halftoning", Proc. IS&T 8th Int. Congress on Advances in
 * Non-Impact Printing Technologies (1992/93), 280–282; D. L. Lau, G. R. Arce and N. C. Gallagher, "Green-noise digital
 * halftoning", Proc. IEEE 86(12) (1998), 2424–2444 (weight jitter). Both filters read the pixel behind and the pixel
 * above. Each weight is drawn at random for every pixel, from 1/4 to 3/4, so no direction dominates. Ours: the fed-back output is
 * centred on the fraction, so light and dark tones cluster alike.
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
