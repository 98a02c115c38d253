import type { KernelMemory } from "../core/kernel-memory.js";
import { bandHalftone } from "./band.js";
import { plainDiffusion } from "./diffusion-plain.js";
import { planDiffusion } from "./diffusion-plan.js";
import { simdDiffusion } from "./diffusion-simd.js";
import { plainFloydSteinberg } from "./floyd-steinberg-plain.js";
import { type DiffusionKernel, floydSteinberg } from "./kernels.js";
import type { BandHalftone, BandSize, HalftoneSettings } from "./method.js";
import { isRing, onRing } from "./ring.js";
import { goesRound } from "./side-error.js";

/**
 * Error diffusion of R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. SID 17(2) (1976),
 * 75–77, for any stencil: burn where fraction + received error reaches 1/2, and hand the whole difference on, in whole
 * numbers as `planDiffusion` says. With more than two power levels each pixel takes the nearest. Side error is kept as
 * `side-error.ts` says; a ring has no sides (`ring.ts`).
 */
export function startDiffusion(
  kernel: DiffusionKernel,
  size: BandSize,
  settings: HalftoneSettings,
  memory: KernelMemory,
): BandHalftone {
  const { columns } = size;
  const { scan, levels } = settings;
  const plan = planDiffusion(kernel);
  if (isRing(size, settings)) {
    const loop = plainDiffusion(plan, columns, scan, levels, goesRound);
    return bandHalftone(size, memory, onRing(columns, loop, levels), 0, levels);
  }
  if (levels > 2) return bandHalftone(size, memory, plainDiffusion(plan, columns, scan, levels), 0, levels);
  const isFloydSteinberg = kernel === floydSteinberg;
  if (memory.simd) {
    const loop = simdDiffusion(plan, isFloydSteinberg, columns, scan, memory, memory.simd);
    return bandHalftone(size, memory, loop);
  }
  const loop = isFloydSteinberg ? plainFloydSteinberg(columns, scan) : plainDiffusion(plan, columns, scan);
  return bandHalftone(size, memory, loop);
}
