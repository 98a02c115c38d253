import type { KernelMemory } from "../core/kernel-memory.js";
import { bandHalftone } from "./band.js";
import { plainDiffusion } from "./diffusion-plain.js";
import { planDiffusion } from "./diffusion-plan.js";
import { simdDiffusion } from "./diffusion-simd.js";
import { plainFloydSteinberg } from "./floyd-steinberg-plain.js";
import { type DiffusionKernel, floydSteinberg } from "./kernels.js";
import type { BandHalftone, BandSize, Scan } from "./method.js";

/**
 * Error diffusion of R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. SID 17(2) (1976),
 * 75–77, for any stencil: burn where fraction + received error reaches 1/2, and hand the whole difference on, in whole
 * numbers as `planDiffusion` says. Side error is kept as `side-error.ts` says.
 */
export function startDiffusion(
  kernel: DiffusionKernel,
  size: BandSize,
  scan: Scan,
  memory: KernelMemory,
): BandHalftone {
  const plan = planDiffusion(kernel);
  if (memory.simd) {
    return bandHalftone(size, memory, simdDiffusion(plan, size.columns, scan, memory, memory.simd));
  }
  const loop =
    kernel === floydSteinberg
      ? plainFloydSteinberg(size.columns, scan)
      : plainDiffusion(plan, size.columns, scan);
  return bandHalftone(size, memory, loop);
}
