import { type DiffusionKernel, diffusionKernels } from "../../src/4-halftone/kernels.js";

/** The error-diffusion stencil with that name. */
export function stencil(id: string): DiffusionKernel {
  const kernel = diffusionKernels.find((candidate) => candidate.id === id);
  if (!kernel) throw new Error(`no stencil ${id}`);
  return kernel;
}
