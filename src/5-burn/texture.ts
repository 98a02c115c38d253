import type { Pitch } from "../core/plane.js";
import { PowerSpectrum } from "./power-spectrum.js";

/**
 * Texture of a halftoned flat tint, after R. A. Ulichney, "Dithering with blue noise", Proc. IEEE 76(1), 56–79 (1988). All
 * frequencies are in cycles per pixel. If pixels are not square, the unit is the root of the area of a pixel.
 */
export interface Texture {
  /** Share g of the pixels at the higher of the two levels of the tint. */
  readonly fraction: number;
  /** Principal frequency of the same number of dots spread evenly: √g, or √(1 − g) above one half. */
  readonly principalFrequency: number;
  /** Frequency of the ring with most power. Incomplete rings in the corners count only if the principal frequency lies there. */
  readonly peakFrequency: number;
  /** Mean power below half the principal frequency: 1 for white noise, 0 for dots spread evenly. */
  readonly lowFrequencyPower: number;
  /** Difference of power between directions, dB: 0 for white noise, which has none. */
  readonly anisotropyDb: number;
  /**
   * Radially averaged power spectrum, divided by the variance of a pixel, g(1 − g): white noise is 1 everywhere. Ring k holds
   * the frequencies from k − ½ to k + ½ of 64ths. Ring 0, the mean, is 0. It is one periodogram of the whole tint, averaged in each
   * ring (P. J. Daniell's estimate). Ulichney's mean over segments would leak from the peak into low frequencies.
   */
  readonly spectrum: readonly number[];
}

/** Rings per cycle per pixel. */
const RINGS = 64;

/** Side of the segments whose periodograms are averaged. */
const SEGMENT_PX = 64;

/** Segments along a block. A block is as large as the blue-noise tile, so more segments would only repeat it. */
const BLOCK_SEGMENTS = 2;
const BLOCK_PX = BLOCK_SEGMENTS * SEGMENT_PX;

/**
 * @param pixels [rows × columns] power levels of a flat tint; at two levels 1 = burn
 * @param columns @param rows powers of two from 128
 * @returns undefined if all pixels are equal
 */
export function tintTexture(
  pixels: Uint8Array,
  columns: number,
  rows: number,
  pitch: Pitch,
): Texture | undefined {
  const mean = pixels.reduce((sum, pixel) => sum + pixel, 0) / pixels.length;
  const variance = pixels.reduce((sum, pixel) => sum + (pixel - mean) ** 2, 0) / pixels.length;
  if (variance === 0) return undefined;
  const fraction = mean - Math.floor(mean);
  const principalFrequency = Math.sqrt(Math.min(fraction, 1 - fraction));

  const power = new PowerSpectrum(columns, rows).of({ data: pixels, from: 0, stride: columns }, mean);
  const whole = frequenciesOf(columns, rows, pitch);
  const spectrum = ringMoments(power, whole).map((ring) => ring.mean / variance);
  const low = momentsWhere(power, whole, (radius) => radius < principalFrequency / 2);
  const { alongMm, acrossMm } = pitch;
  const complete = Math.sqrt(Math.min(alongMm / acrossMm, acrossMm / alongMm)) / 2;
  const looked = principalFrequency > complete ? spectrum : spectrum.slice(0, 1 + complete * RINGS);
  return {
    fraction,
    principalFrequency,
    peakFrequency: looked.indexOf(Math.max(...looked)) / RINGS,
    lowFrequencyPower: low.mean / variance,
    anisotropyDb: anisotropyDb(pixels, columns, rows, mean, pitch),
    spectrum,
  };
}

/**
 * Ulichney's anisotropy of a ring is the variance of its power over its squared mean. The mean of K periodograms without a
 * direction gives 1/K, so for him 10 log₁₀(1/K) means none. Here it is multiplied by K, and 0 dB means none. One figure covers all
 * rings, each weighted by its number of frequencies and its squared mean: Σ K·s²/Σ P².
 */
function anisotropyDb(pixels: Uint8Array, columns: number, rows: number, mean: number, pitch: Pitch): number {
  const segment = new PowerSpectrum(SEGMENT_PX, SEGMENT_PX);
  const frequencies = frequenciesOf(SEGMENT_PX, SEGMENT_PX, pitch);
  let unlike = 0;
  let alike = 0;
  for (let top = 0; top < rows; top += BLOCK_PX) {
    for (let left = 0; left < columns; left += BLOCK_PX) {
      const power = new Float64Array(SEGMENT_PX ** 2);
      for (let y = top; y < top + BLOCK_PX; y += SEGMENT_PX) {
        for (let x = left; x < left + BLOCK_PX; x += SEGMENT_PX) {
          const one = segment.of({ data: pixels, from: y * columns + x, stride: columns }, mean);
          for (let i = 0; i < power.length; i++) power[i] += one[i] / BLOCK_SEGMENTS ** 2;
        }
      }
      for (const ring of ringMoments(power, frequencies)) {
        unlike += BLOCK_SEGMENTS ** 2 * ring.count * ring.variance;
        alike += ring.count * ring.mean ** 2;
      }
    }
  }
  return 10 * Math.log10(unlike / alike);
}

/** The frequencies of a transform, without 0, and one of each mirrored pair. */
interface Frequencies {
  /** Places in the spectrum. */
  readonly at: readonly number[];
  /** Cycles per root of a pixel's area. */
  readonly radius: readonly number[];
}

function frequenciesOf(columns: number, rows: number, { alongMm, acrossMm }: Pitch): Frequencies {
  const sideMm = Math.sqrt(alongMm * acrossMm);
  const at: number[] = [];
  const radius: number[] = [];
  for (let y = 0; y <= rows / 2; y++) {
    const mirrorsItself = y === 0 || y === rows / 2;
    for (let x = 0; x < columns; x++) {
      if ((x === 0 && y === 0) || (mirrorsItself && x > columns / 2)) continue;
      const along = Math.min(x, columns - x) / (columns * alongMm);
      at.push(y * columns + x);
      radius.push(sideMm * Math.hypot(along, y / (rows * acrossMm)));
    }
  }
  return { at, radius };
}

interface Moments {
  readonly count: number;
  readonly mean: number;
  readonly variance: number;
}

/** [rings from 0] */
function ringMoments(power: Float64Array, { at, radius }: Frequencies): Moments[] {
  const sums: { count: number; sum: number; squares: number }[] = [];
  at.forEach((place, i) => {
    const ring = Math.round(RINGS * radius[i]);
    while (sums.length <= ring) sums.push({ count: 0, sum: 0, squares: 0 });
    sums[ring].count++;
    sums[ring].sum += power[place];
    sums[ring].squares += power[place] ** 2;
  });
  return sums.map(({ count, sum, squares }) => momentsOf(count, sum, squares));
}

function momentsWhere(
  power: Float64Array,
  { at, radius }: Frequencies,
  wanted: (radius: number) => boolean,
): Moments {
  let [count, sum, squares] = [0, 0, 0];
  at.forEach((place, i) => {
    if (!wanted(radius[i])) return;
    count++;
    sum += power[place];
    squares += power[place] ** 2;
  });
  return momentsOf(count, sum, squares);
}

function momentsOf(count: number, sum: number, squares: number): Moments {
  const mean = count === 0 ? 0 : sum / count;
  return { count, mean, variance: count < 2 ? 0 : (squares - count * mean * mean) / (count - 1) };
}
