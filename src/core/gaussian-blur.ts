/** Gaussian weights of −reach..reach pixels, normalised; reach is 4σ. σ = 0 gives the identity. */
export function gaussianTaps(sigmaPx: number): Float64Array {
  const reach = Math.ceil(4 * sigmaPx);
  const taps = new Float64Array(2 * reach + 1).fill(1);
  if (reach === 0) return taps;
  let sum = 0;
  for (let k = -reach; k <= reach; k++) sum += taps[k + reach] = Math.exp(-0.5 * (k / sigmaPx) ** 2);
  return taps.map((tap) => tap / sum);
}

/**
 * Separable Gaussian blur of a row-major plane; beyond the edges the edge value goes on.
 *
 * @param out receives the result; must not be `source`
 */
export function gaussianBlur(
  source: Float32Array,
  columns: number,
  rows: number,
  sigmaAlongPx: number,
  sigmaAcrossPx: number,
  out: Float32Array = new Float32Array(source.length),
): Float32Array {
  const across = gaussianTaps(sigmaAcrossPx);
  const reach = (across.length - 1) / 2;
  const along = gaussianTaps(sigmaAlongPx);
  const ring = Array.from({ length: across.length }, () => new Float32Array(columns));
  const padded = new Float32Array(columns + along.length - 1);
  let next = 0;
  for (let y = 0; y < rows; y++) {
    for (; next <= Math.min(rows - 1, y + reach); next++) {
      blurRow(source.subarray(next * columns, (next + 1) * columns), along, padded, ring[next % ring.length]);
    }
    const target = out.subarray(y * columns, (y + 1) * columns).fill(0);
    for (let k = -reach; k <= reach; k++) {
      const row = ring[Math.min(rows - 1, Math.max(0, y + k)) % ring.length];
      const weight = across[k + reach];
      for (let x = 0; x < columns; x++) target[x] += weight * row[x];
    }
  }
  return out;
}

function blurRow(row: Float32Array, taps: Float64Array, padded: Float32Array, out: Float32Array): void {
  const reach = (taps.length - 1) / 2;
  padded.fill(row[0], 0, reach);
  padded.set(row, reach);
  padded.fill(row[row.length - 1], reach + row.length);
  for (let x = 0; x < out.length; x++) {
    let sum = 0;
    for (let k = 0; k < taps.length; k++) sum += taps[k] * padded[x + k];
    out[x] = sum;
  }
}
