import type { DiffusionKernel } from "./kernels.js";
import type { RowHalftone, Scan, Sides } from "./method.js";

/**
 * Error diffusion of R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. SID 17(2) (1976),
 * 75–77, for any stencil: burn where fraction + received error reaches 1/2, and hand the whole difference on.
 *
 * @param sides `keep` hands error that would leave the picture at its sides to the nearest pixel of the row it was meant for
 *   (of the next row, where that one is already done), so that the mean holds to the edge; `drop` loses it, as published
 *   and as other libraries do
 */
export function diffuse(kernel: DiffusionKernel, columns: number, scan: Scan, sides: Sides): RowHalftone {
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
    if (sides === "keep") keepSideError(errors, row, rowsAhead, stride, margin);
    errors.fill(0, row, row + stride);
  };
}

/** Move what lies in the side margins of all rows to come, and of the row just done, to the edge pixels beside them. */
function keepSideError(
  errors: Float64Array,
  doneRow: number,
  rowsAhead: number,
  stride: number,
  margin: number,
): void {
  const nextRow = (doneRow + stride) % (rowsAhead * stride);
  for (let row = 0; row < rowsAhead * stride; row += stride) {
    const heir = row === doneRow ? nextRow : row;
    for (let k = 0; k < margin; k++) {
      errors[heir + margin] += errors[row + k];
      errors[heir + stride - 1 - margin] += errors[row + stride - 1 - k];
      errors[row + k] = 0;
      errors[row + stride - 1 - k] = 0;
    }
  }
}
