import { levelCodes } from "./levels.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";
import { randomState } from "./random-bits.js";
import { diffusionHalftone, isRing, type TurningLoop, turnRow } from "./ring.js";
import { goesRound, keptAtSides } from "./side-error.js";
import { diffuseVariableRow, FIRST, type VariableState } from "./variable-diffusion-kernels.js";
import { GREY_STRIDE, type VariableShares, weightTable } from "./variable-weights.js";

/**
 * Error diffusion to three neighbours. The shares depend on the burn fraction of the pixel, not on its received error:
 * V. Ostromoukhov (2001); with threshold noise, B. Zhou and X. Fang (2003). The noise moves only the decision, not the error, so
 * the mean stays. The pixel straight below takes the rest of the rounding.
 *
 * With more than two power levels, shares and noise depend on the place of the fraction between its two levels.
 */
export function startVariableDiffusion(
  shares: VariableShares,
  work: BandWork,
  settings: HalftoneSettings,
): BandHalftone {
  const { columns, memory } = work;
  const { seed, levels } = settings;
  const ring = isRing(work, settings);
  const simd = ring || levels > 2 ? undefined : memory.simd;
  const sides = ring ? goesRound : keptAtSides(levels);
  const table = memory.int16(256 * GREY_STRIDE);
  weightTable(shares, table);
  const received = memory.int32(columns + 2);
  const masks = memory.int16(simd ? columns : 0);
  const noisy = shares.noise !== undefined;
  const state: VariableState = { simd, columns, table, noisy, codes: levelCodes(levels), received, masks };
  let rowsDone = 0;

  const loop: TurningLoop = {
    runRow: (row) => {
      sides.clamp(received, FIRST, columns);
      diffuseVariableRow(state, row, randomState(seed, rowsDone * columns));
      sides.fold(received, FIRST, columns);
      rowsDone++;
    },
    restart: () => {
      rowsDone = 0;
      received.fill(0);
    },
    turn: (by) => turnRow(received, FIRST, columns, by),
  };
  return diffusionHalftone(loop, work, settings);
}
