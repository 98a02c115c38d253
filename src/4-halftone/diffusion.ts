import type { DiffusionKernel } from "./kernels.js";
import type { RowHalftone, Scan } from "./method.js";

/**
 * Error diffusion of R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. SID 17(2) (1976),
 * 75–77, for any stencil: burn where fraction + received error reaches 1/2, and hand the difference on undivided.
 * Error that would leave the picture at its sides is dropped, as published.
 */
export function diffuse(kernel: DiffusionKernel, columns: number, scan: Scan): RowHalftone {
  const rowsAhead = Math.max(...kernel.taps.map(([, dy]) => dy)) + 1;
  const margin = Math.max(...kernel.taps.map(([dx]) => Math.abs(dx)));
  const stride = columns + 2 * margin;
  const errors = new Float64Array(rowsAhead * stride);
  const tapCount = kernel.taps.length;
  const shares = Float64Array.from(kernel.taps, ([, , weight]) => weight / kernel.divisor);
  const targets = new Int32Array(tapCount);

  return (fractions, y, bits) => {
    const step = scan === "serpentine" && y % 2 === 1 ? -1 : 1;
    const row = (y % rowsAhead) * stride;
    kernel.taps.forEach(([dx, dy], k) => {
      targets[k] = ((y + dy) % rowsAhead) * stride + margin + step * dx;
    });
    const first = step === 1 ? 0 : columns - 1;
    for (let n = 0, x = first; n < columns; n++, x += step) {
      const wanted = fractions[x] + errors[row + margin + x];
      const bit = wanted >= 0.5 ? 1 : 0;
      bits[x] = bit;
      const error = wanted - bit;
      for (let k = 0; k < tapCount; k++) errors[targets[k] + x] += error * shares[k];
    }
    errors.fill(0, row, row + stride);
  };
}
