import FFT from "fft.js";

/**
 * Radially averaged power of a square pattern of bits: ring k holds the frequencies from k − ½ to k + ½ cycles per side.
 * Divided by the variance g(1 − g) of a bit, so that white noise is 1 everywhere. Ring 0 (the mean) is left at 0.
 *
 * @param side a power of two
 */
export function radialPower(bits: ArrayLike<number>, side: number): number[] {
  const mean = Array.from(bits).reduce((sum, bit) => sum + bit, 0) / side ** 2;
  const fft = new FFT(side);
  const rows = Array.from({ length: side }, (_, y) => {
    const line = fft.createComplexArray();
    for (let x = 0; x < side; x++) {
      line[2 * x] = bits[y * side + x] - mean;
      line[2 * x + 1] = 0;
    }
    const out = fft.createComplexArray();
    fft.transform(out, line);
    return out;
  });

  const power = new Array<number>(side / 2 + 1).fill(0);
  const count = new Array<number>(side / 2 + 1).fill(0);
  for (let x = 0; x < side; x++) {
    const column = fft.createComplexArray();
    rows.forEach((row, y) => {
      column[2 * y] = row[2 * x];
      column[2 * y + 1] = row[2 * x + 1];
    });
    const out = fft.createComplexArray();
    fft.transform(out, column);
    for (let y = 0; y < side; y++) {
      const ring = Math.round(Math.hypot(Math.min(x, side - x), Math.min(y, side - y)));
      if (ring === 0 || ring > side / 2) continue;
      power[ring] += (out[2 * y] ** 2 + out[2 * y + 1] ** 2) / (side ** 2 * mean * (1 - mean));
      count[ring]++;
    }
  }
  return power.map((sum, ring) => (count[ring] === 0 ? 0 : sum / count[ring]));
}

/** Mean of the rings from `from` to below `to`, in cycles per pixel. */
export function meanPower(power: readonly number[], from: number, to: number): number {
  const side = 2 * (power.length - 1);
  const rings = power.slice(Math.max(1, Math.ceil(from * side)), Math.ceil(to * side));
  return rings.reduce((sum, value) => sum + value, 0) / rings.length;
}
