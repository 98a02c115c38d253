/**
 * Removes the bare surface from a row of a cut-out, so that the row has the light of the picture alone. Pixels without coverage
 * stay as they are.
 *
 * @param row linear luminance over the bare surface; changed in place
 * @param coverage 0..1
 * @param bare luminance of the bare surface
 */
export function liftFromBare(row: Float32Array, coverage: Float32Array, bare: 0 | 1): void {
  for (let x = 0; x < row.length; x++) {
    if (coverage[x] === 0 || coverage[x] >= 1) continue;
    row[x] = Math.min(1, Math.max(0, bare + (row[x] - bare) / coverage[x]));
  }
}

/** The reverse. Pixels without coverage become bare. */
export function layOverBare(row: Float32Array, coverage: Float32Array, bare: 0 | 1): void {
  for (let x = 0; x < row.length; x++) {
    if (coverage[x] >= 1) continue;
    row[x] = coverage[x] === 0 ? bare : bare + (row[x] - bare) * coverage[x];
  }
}
