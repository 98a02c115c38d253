import { erfc } from "../core/physics/erf.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { Pitch } from "../core/plane.js";

/** Blocks along each side of a picture. */
const BLOCKS = 24;

/** Sums of a block: Σ e and Σ e·L* wanted of the nominal error and of those at both doses of the slope. */
const SUMS = 6;

/** Weights of the errors at nominal dose, at the lower and at the higher one in a linear combination of the three. */
export type Combination = readonly [nominal: number, under: number, over: number];

/**
 * Errors of a picture in blocks: how a slope dL*⁄dF lies over the piece decides how much of a random field F of dose shifts all of
 * its tones.
 */
export class FieldBlocks {
  private readonly along: number;
  private readonly across: number;
  private readonly sums: Float64Array;

  /** @param inner the judged rectangle of the picture */
  constructor(
    private readonly inner: PixelRectangle,
    private readonly pitch: Pitch,
  ) {
    this.along = Math.min(BLOCKS, inner.columns);
    this.across = Math.min(BLOCKS, inner.rows);
    this.sums = new Float64Array(SUMS * this.along * this.across);
  }

  /** Adds a part of row `y` of the picture, from column `left` on. @param errors nominal, under, over */
  addRow(y: number, left: number, wanted: Float32Array, errors: readonly Float32Array[]): void {
    const { inner, along, across, sums } = this;
    const row = Math.floor(((y - inner.top) * across) / inner.rows);
    const end = left + wanted.length;
    for (let x = left; x < end; ) {
      const column = Math.floor(((x - inner.left) * along) / inner.columns);
      const next = Math.min(end, inner.left + Math.ceil(((column + 1) * inner.columns) / along));
      const at = SUMS * (row * along + column);
      for (let i = x - left; i < next - left; i++) {
        const tone = wanted[i];
        for (let k = 0; k < 3; k++) {
          const error = errors[k][i];
          sums[at + 2 * k] += error;
          sums[at + 2 * k + 1] += error * tone;
        }
      }
      x = next;
    }
  }

  /**
   * Expected square of the shift of a piece by a field of variance 1 and correlation exp(−(r/ℓ)²) that acts with the slope s of
   * each place: of the terms of the fit a + b·L* wanted, the means of s·F and of s·z·F, where z is L* wanted less its mean, over
   * its deviation. Source: statistics, ΣΣ over pairs of blocks.
   *
   * @param slope s from the three errors
   * @param tones mean and variance of L* wanted
   * @param lengthMm ℓ
   */
  shiftOf(
    slope: Combination,
    tones: { readonly mean: number; readonly variance: number },
    lengthMm: number,
  ): number {
    const level = this.perBlock(slope, 0);
    const withTone = this.perBlock(slope, 1).map((value, n) => value - tones.mean * level[n]);
    const contrast = tones.variance > 0 ? this.meanSquare(withTone, lengthMm) / tones.variance : 0;
    return this.meanSquare(level, lengthMm) + contrast;
  }

  /** Σ s (which = 0) or Σ s·L* wanted (1) of each block. */
  private perBlock(slope: Combination, which: 0 | 1): Float64Array {
    return Float64Array.from({ length: this.along * this.across }, (_, n) =>
      slope.reduce((sum, weight, k) => sum + weight * this.sums[SUMS * n + 2 * k + which], 0),
    );
  }

  /** E (Σ values·F / pixels)² */
  private meanSquare(values: Float64Array, lengthMm: number): number {
    const { along, across, inner, pitch } = this;
    const nearAlong = correlations(along, (inner.columns * pitch.alongMm) / along / lengthMm);
    const nearAcross = correlations(across, (inner.rows * pitch.acrossMm) / across / lengthMm);
    let sum = 0;
    for (let y = 0; y < across; y++) {
      for (let other = 0; other < across; other++) {
        let rows = 0;
        for (let x = 0; x < along; x++) {
          let row = 0;
          for (let k = 0; k < along; k++) row += nearAlong[Math.abs(x - k)] * values[other * along + k];
          rows += values[y * along + x] * row;
        }
        sum += nearAcross[Math.abs(y - other)] * rows;
      }
    }
    return Math.max(0, sum) / (inner.columns * inner.rows) ** 2;
  }
}

/**
 * Mean of exp(−(x − y)²) over two blocks of this width that lie n blocks apart, n = 0..count − 1: the second difference of
 * K(x) = (√π·x·erf(x) + exp(−x²))/2, whose second derivative is exp(−x²).
 */
function correlations(count: number, width: number): Float64Array {
  const integral = (x: number): number => (Math.sqrt(Math.PI) * x * (1 - erfc(x)) + Math.exp(-x * x)) / 2;
  // The differences of a narrow block would lose their digits.
  if (width < 0.01) return Float64Array.from({ length: count }, (_, n) => Math.exp(-((n * width) ** 2)));
  return Float64Array.from({ length: count }, (_, n) => {
    const [before, here, after] = [n - 1, n, n + 1].map((k) => integral(Math.abs(k * width)));
    return (before - 2 * here + after) / width ** 2;
  });
}
