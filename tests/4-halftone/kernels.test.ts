import { describe, expect, it } from "vitest";
import { type DiffusionKernel, diffusionKernels } from "../../src/4-halftone/kernels.js";
import { publishedTable } from "../support/halftone-tables.js";

interface PublishedStencil {
  readonly divisor: number;
  readonly weight_sum: number;
  readonly taps: readonly (readonly [dx: number, dy: number, weight: number])[];
}

/** Where the table of published stencils uses another name. */
const publishedNames: Readonly<Record<string, string>> = {
  sierra: "sierra-three-row",
  "shiau-fan-4": "shiau-fan-4tap",
  "shiau-fan": "shiau-fan-5tap",
};

const weightSum = (kernel: DiffusionKernel) => kernel.taps.reduce((sum, [, , weight]) => sum + weight, 0);

describe.each(diffusionKernels.map((kernel) => [kernel.id, kernel] as const))("stencil %s", (id, kernel) => {
  const published = publishedTable<PublishedStencil>(`error-diffusion/${publishedNames[id] ?? id}`);

  it("is the published one", () => {
    expect(kernel.divisor).toBe(published.divisor);
    expect(kernel.taps).toEqual(published.taps);
  });

  it("hands on all of the error, or the share that is stated", () => {
    // Atkinson keeps back a quarter on purpose: 6 of 8.
    expect(weightSum(kernel)).toBe(id === "atkinson" ? 6 : kernel.divisor);
    expect(weightSum(kernel)).toBe(published.weight_sum);
  });

  it("reaches only pixels that are still to come, each once", () => {
    for (const [dx, dy, weight] of kernel.taps) {
      expect(dy > 0 || (dy === 0 && dx > 0)).toBe(true);
      expect(weight).toBeGreaterThan(0);
    }
    expect(new Set(kernel.taps.map(([dx, dy]) => `${dx},${dy}`)).size).toBe(kernel.taps.length);
  });
});

it("Stevenson and Arce's taps stay on one colour of the chequerboard", () => {
  const stevensonArce = diffusionKernels.find((kernel) => kernel.id === "stevenson-arce");
  expect(stevensonArce?.taps.every(([dx, dy]) => (dx + dy) % 2 === 0)).toBe(true);
});
