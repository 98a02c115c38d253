import { diffuseRow, diffusionState, SIDE } from "./diffusion-kernels.js";
import { planDiffusion } from "./diffusion-plan.js";
import type { DiffusionKernel } from "./kernels.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";
import { diffusionHalftone, isRing, type TurningLoop, turnRow } from "./ring.js";

/**
 * Error diffusion of R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. SID 17(2) (1976),
 * 75–77, for any stencil: a pixel burns if fraction + received error reaches 1/2, and passes the whole difference on, in the
 * whole numbers of `planDiffusion`. With more than two power levels each pixel takes the nearest level. `side-error.ts` treats
 * the error at the sides; a ring has no sides (`ring.ts`).
 */
export function startDiffusion(
  kernel: DiffusionKernel,
  work: BandWork,
  settings: HalftoneSettings,
): BandHalftone {
  const { columns, memory } = work;
  const shape = { columns, levels: settings.levels, ring: isRing(work, settings) };
  const state = diffusionState(planDiffusion(kernel), shape, memory);
  const { received } = state;
  const loop: TurningLoop = {
    runRow: (row) => diffuseRow(state, row),
    restart: () => {
      state.turn = 0;
      for (const row of received) row.fill(0);
    },
    turn: (by) => {
      for (const row of received) turnRow(row, SIDE, columns, by);
    },
  };
  return diffusionHalftone(loop, work, settings);
}
