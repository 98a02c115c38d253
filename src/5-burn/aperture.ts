/**
 * Means of a picture in side-by-side rectangular apertures. Their sides need not be whole pixels: edge pixels count by the part
 * inside. Incomplete apertures are left out.
 *
 * @param plane row-major, columns × rows
 * @param alongPx side of an aperture along the rows, in pixels; @param acrossPx across the rows
 */
export function apertureMeans(
  plane: Float32Array,
  columns: number,
  rows: number,
  alongPx: number,
  acrossPx: number,
): Float64Array {
  const countAlong = Math.floor(columns / alongPx + 1e-9);
  const countAcross = Math.floor(rows / acrossPx + 1e-9);
  const integral = integralImage(plane, columns, rows);
  const means = new Float64Array(countAlong * countAcross);
  for (let j = 0, n = 0; j < countAcross; j++) {
    for (let i = 0; i < countAlong; i++, n++) {
      const [left, right] = [i * alongPx, (i + 1) * alongPx];
      const [top, bottom] = [j * acrossPx, (j + 1) * acrossPx];
      const sum =
        sumTo(integral, columns, rows, right, bottom) -
        sumTo(integral, columns, rows, left, bottom) -
        sumTo(integral, columns, rows, right, top) +
        sumTo(integral, columns, rows, left, top);
      means[n] = sum / (alongPx * acrossPx);
    }
  }
  return means;
}

/** Sum over the rectangle from the corner to each grid point: (columns + 1) × (rows + 1). F. C. Crow, SIGGRAPH 1984. */
function integralImage(plane: Float32Array, columns: number, rows: number): Float64Array {
  const stride = columns + 1;
  const integral = new Float64Array(stride * (rows + 1));
  for (let y = 0; y < rows; y++) {
    let rowSum = 0;
    for (let x = 0; x < columns; x++) {
      rowSum += plane[y * columns + x];
      integral[(y + 1) * stride + x + 1] = integral[y * stride + x + 1] + rowSum;
    }
  }
  return integral;
}

/** The integral at a point between grid points. Bilinear interpolation is exact for pixels of constant value. */
function sumTo(integral: Float64Array, columns: number, rows: number, x: number, y: number): number {
  const x0 = Math.min(columns - 1, Math.floor(x));
  const y0 = Math.min(rows - 1, Math.floor(y));
  const [u, v] = [x - x0, y - y0];
  const at = y0 * (columns + 1) + x0;
  const top = integral[at] * (1 - u) + integral[at + 1] * u;
  const bottom = integral[at + columns + 1] * (1 - u) + integral[at + columns + 2] * u;
  return top * (1 - v) + bottom * v;
}
