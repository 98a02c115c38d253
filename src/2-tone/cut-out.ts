/**
 * A row of a cut-out over the bare surface, and the same row of the picture alone: what the picture's own light must be for
 * its share of each pixel to give what is seen. Nothing is known where it covers nothing.
 *
 * @param row linear luminance over the bare surface; changed in place
 * @param coverage 0..1
 * @param bare luminance that stands for the bare surface
 */
export function liftFromBare(row: Float32Array, coverage: Float32Array, bare: 0 | 1): void {
  for (let x = 0; x < row.length; x++) {
    if (coverage[x] === 0 || coverage[x] >= 1) continue;
    row[x] = Math.min(1, Math.max(0, bare + (row[x] - bare) / coverage[x]));
  }
}

/** The way back; where the picture covers nothing, the surface is bare whatever the row holds. */
export function layOverBare(row: Float32Array, coverage: Float32Array, bare: 0 | 1): void {
  for (let x = 0; x < row.length; x++) {
    if (coverage[x] >= 1) continue;
    row[x] = coverage[x] === 0 ? bare : bare + (row[x] - bare) * coverage[x];
  }
}
