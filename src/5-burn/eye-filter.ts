import FFT from "fft.js";
import { cyclesPerDegreeFromPerMm, eyeModulation } from "../core/modulation.js";
import type { Pitch } from "../core/plane.js";

export interface Viewing {
  readonly distanceMm: number;
  /** Luminance that the eye is adapted to, cd/m². */
  readonly luminanceCdPerM2: number;
}

/**
 * What the eye blurs: multiplies the spectrum of a square tile by exp(−f/k) (Näsänen 1984, see core/modulation). The tile
 * closes on itself, so its caller pads it.
 *
 * The transform is symmetric and real, so one complex transform filters two pictures at once: one in the real parts, one in
 * the imaginary parts.
 */
export class EyeFilter {
  private readonly fft: FFT;
  private readonly modulation: Float64Array;
  private readonly line: Float64Array;
  private readonly lineSpectrum: Float64Array;

  /** @param sidePx side of the tile, a power of two from 2 */
  constructor(
    readonly sidePx: number,
    pitch: Pitch,
    viewing: Viewing,
  ) {
    this.fft = new FFT(sidePx);
    this.line = new Float64Array(2 * sidePx);
    this.lineSpectrum = new Float64Array(2 * sidePx);
    this.modulation = new Float64Array(sidePx * sidePx);
    for (let y = 0; y < sidePx; y++) {
      const acrossPerMm = Math.min(y, sidePx - y) / (sidePx * pitch.acrossMm);
      for (let x = 0; x < sidePx; x++) {
        const alongPerMm = Math.min(x, sidePx - x) / (sidePx * pitch.alongMm);
        const frequency = cyclesPerDegreeFromPerMm(Math.hypot(alongPerMm, acrossPerMm), viewing.distanceMm);
        // Stored transposed: the spectrum is multiplied while its rows are columns.
        this.modulation[x * sidePx + y] = eyeModulation(frequency, viewing.luminanceCdPerM2);
      }
    }
  }

  /** Filter in place. `pair` holds sidePx × sidePx complex values: first picture real, second imaginary. */
  filterPair(pair: Float64Array): void {
    const { sidePx, modulation } = this;
    this.transformRows(pair, true);
    transposeSquare(pair, sidePx);
    this.transformRows(pair, true);
    for (let i = 0; i < modulation.length; i++) {
      pair[2 * i] *= modulation[i];
      pair[2 * i + 1] *= modulation[i];
    }
    this.transformRows(pair, false);
    transposeSquare(pair, sidePx);
    this.transformRows(pair, false);
  }

  private transformRows(pair: Float64Array, forward: boolean): void {
    const { fft, line, lineSpectrum, sidePx } = this;
    for (let y = 0; y < sidePx; y++) {
      const from = 2 * y * sidePx;
      line.set(pair.subarray(from, from + 2 * sidePx));
      if (forward) fft.transform(lineSpectrum, line);
      else fft.inverseTransform(lineSpectrum, line);
      pair.set(lineSpectrum, from);
    }
  }
}

/** Transpose a square of complex values in place, in blocks that stay in the cache. */
function transposeSquare(pair: Float64Array, side: number): void {
  const block = Math.min(16, side);
  for (let by = 0; by < side; by += block) {
    for (let bx = by; bx < side; bx += block) {
      for (let y = by; y < by + block; y++) {
        for (let x = Math.max(bx, y + 1); x < bx + block; x++) {
          const a = 2 * (y * side + x);
          const b = 2 * (x * side + y);
          const real = pair[a];
          const imaginary = pair[a + 1];
          pair[a] = pair[b];
          pair[a + 1] = pair[b + 1];
          pair[b] = real;
          pair[b + 1] = imaginary;
        }
      }
    }
  }
}
