import type { ResponsePoints } from "../../src/core/material/response.js";
import type { Pitch } from "../../src/core/plane.js";
import type { Random } from "../../src/core/random.js";
import type { Spot } from "../../src/core/spot.js";
import type { Spread } from "../../src/core/spread.js";
import { normals } from "../support/normals.js";

const WAVES = 150;

/**
 * A random field of variance 1 and correlation exp(−(r/ℓ)²) at the pixels, row by row: many waves whose frequencies follow its
 * spectrum exp(−π²ℓ²f²), a normal distribution of deviation 1/(√2·πℓ).
 */
export function randomField(
  columns: number,
  rows: number,
  pitch: Pitch,
  lengthMm: number,
  random: Random,
): Float64Array {
  const field = new Float64Array(columns * rows);
  for (let wave = 0; wave < WAVES; wave++) {
    const [f, g] = normals(random).map((value) => (Math.SQRT2 * value) / lengthMm);
    const phase = 2 * Math.PI * random();
    // cos(a + b) = cos a·cos b − sin a·sin b, to be quick.
    const along = Array.from({ length: columns }, (_, x) => f * x * pitch.alongMm);
    const [cosines, sines] = [along.map(Math.cos), along.map(Math.sin)];
    for (let y = 0; y < rows; y++) {
      const across = g * y * pitch.acrossMm + phase;
      const [c, s] = [Math.cos(across) * Math.sqrt(2 / WAVES), Math.sin(across) * Math.sqrt(2 / WAVES)];
      for (let x = 0; x < columns; x++) field[y * columns + x] += c * cosines[x] - s * sines[x];
    }
  }
  return field;
}

export interface VariedPiece {
  /** Row-major, 0 or 1. */
  readonly bits: Uint8Array;
  readonly columns: number;
  /** Left out on every side, but lines and pixels there add to the dose. */
  readonly marginPx: number;
  readonly points: ResponsePoints;
  readonly pitch: Pitch;
  readonly spot: Spot;
}

/** Abramowitz & Stegun 7.1.26, within 1.5e-7. */
function erf(x: number): number {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const series =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  return Math.sign(x) * (1 - series * Math.exp(-x * x));
}

function responseAt(points: ResponsePoints, dose: number): number {
  // Points are equally spaced, from 0.
  const above = Math.ceil(dose / points[1][0]);
  if (above <= 0 || above >= points.length) return points[above <= 0 ? 0 : points.length - 1][1];
  const [[from, low], [to, high]] = [points[above - 1], points[above]];
  return low + ((high - low) * (dose - from)) / (to - from);
}

/**
 * Mean luminance factor of each pixel of a piece whose dose varies: each line has its own factor on what it deposits, and the dose of
 * every sample is multiplied by the exponential of a random field. By section 2: boxes along the lines, Gaussians across, ten
 * samples to a spot in both directions. The response is linear between its points.
 */
export function burnVaried(piece: VariedPiece, spread: Spread, random: Random): Float64Array {
  const { bits, columns, marginPx, points, pitch, spot } = piece;
  const rows = bits.length / columns;
  const factors = Array.from({ length: rows }, () => 1 + spread.line * normals(random)[0]);
  const field = randomField(columns, rows, pitch, spread.localLengthMm, random);
  const luminance = new Float64Array((columns - 2 * marginPx) * (rows - 2 * marginPx));
  const alongTaps = tapsOf(pitch.alongMm, spot.alongMm, (x, sigma) => {
    const [a, root] = [pitch.alongMm / 2, Math.SQRT2 * sigma];
    return (erf((x + a) / root) - erf((x - a) / root)) / 2;
  });
  const acrossTaps = tapsOf(pitch.acrossMm, spot.acrossMm, (y, sigma) => {
    return (pitch.acrossMm * Math.exp(-0.5 * (y / sigma) ** 2)) / (sigma * Math.sqrt(2 * Math.PI));
  });
  const lineDose = alongTaps.map((taps) => blurred(bits, columns, taps));
  const samples = alongTaps.length * acrossTaps.length;
  for (let y = marginPx, n = 0; y < rows - marginPx; y++) {
    for (let x = marginPx; x < columns - marginPx; x++, n++) {
      const local = Math.exp(spread.local * field[y * columns + x]);
      for (const doses of lineDose) {
        for (const taps of acrossTaps) {
          let dose = 0;
          for (const [line, weight] of taps) {
            dose += weight * factors[y + line] * doses[(y + line) * columns + x];
          }
          luminance[n] += responseAt(points, local * dose) / samples;
        }
      }
    }
  }
  return luminance;
}

type Tap = readonly [pixel: number, weight: number];

/** Weights of neighbours for each sample of a pixel, as far as five standard deviations reach. */
function tapsOf(pitchMm: number, spotMm: number, profile: (mm: number, sigmaMm: number) => number): Tap[][] {
  const sigma = spotMm / 4;
  const reach = Math.ceil((5 * sigma) / pitchMm) + 1;
  const count = Math.ceil((10 * pitchMm) / spotMm);
  const samples = Array.from({ length: count }, (_, s) => (s + 0.5) / count - 0.5);
  return samples.map((sample) =>
    Array.from({ length: 2 * reach + 1 }, (_, k) => [
      k - reach,
      profile((sample - (k - reach)) * pitchMm, sigma),
    ]),
  );
}

function blurred(bits: Uint8Array, columns: number, taps: readonly Tap[]): Float64Array {
  return Float64Array.from(bits, (_, i) => {
    const x = i % columns;
    return taps.reduce((sum, [pixel, weight]) => {
      const inside = x + pixel >= 0 && x + pixel < columns;
      return inside ? sum + weight * bits[i + pixel] : sum;
    }, 0);
  });
}
