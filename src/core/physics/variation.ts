/**
 * What is left of a machine's variation where it is averaged or seen from a distance: shares of a variance, 0..1. The local part
 * is a random field of correlation exp(−(r/ℓ)²), the line part an independent factor on the dose of each line.
 */

import { erfc, scaledErfc } from "./erf.js";
import { eyeDecayCyclesPerDegree, perMmFromCyclesPerDegree } from "./modulation.js";

/**
 * Share of the local field's variance left in its mean over a rectangle: g(a)·g(b) with
 * g(s) = √π·(ℓ/s)·erf(s/ℓ) − (ℓ/s)²·(1 − exp(−s²/ℓ²)). Source: statistics (the mean of the correlation over all pairs of points).
 *
 * @param lengthMm ℓ of the correlation
 */
export function localAverageShare(sideAlongMm: number, sideAcrossMm: number, lengthMm: number): number {
  return meanCorrelation(sideAlongMm / lengthMm) * meanCorrelation(sideAcrossMm / lengthMm);
}

/**
 * Variance of the mean dose between two edges along the lines, a distance s apart, as a share of the variance of a single line,
 * averaged over all phases: p/(√π·c)·g(s/c), c = d/2, g as for `localAverageShare`. Lines are Gaussians of 1/e² diameter d, so
 * their overlap has the correlation exp(−(y/c)²). A wide aperture keeps p/s, the inverse of its number of lines. Lines that
 * stand apart (p > √π·c) exceed 1 in a narrow one, because it sees more than the mean dose of a line and then nothing.
 * Source: statistics (squared weights of independent terms add).
 *
 * @param sideMm s, across the lines; @param pitchMm p, across the lines; @param spotMm d, across the lines
 */
export function lineAverageShare(sideMm: number, pitchMm: number, spotMm: number): number {
  const overlapMm = spotMm / 2;
  return (pitchMm / (Math.sqrt(Math.PI) * overlapMm)) * meanCorrelation(sideMm / overlapMm);
}

/**
 * Share of the local field's variance that passes the eye: 1 − √π·z·exp(z²)·erfc(z), z = 1/(πℓ·f₀), f₀ the decay of the eye in
 * cycles per mm. It is the integral of the field's spectrum πℓ²·exp(−π²ℓ²f²) times the squared modulation exp(−2f/f₀) over all
 * frequencies in two dimensions. Source: statistics; the eye as `eyeModulation`.
 *
 * @param lengthMm ℓ of the correlation
 */
export function localSeenShare(lengthMm: number, viewDistanceMm: number, luminanceCdPerM2: number): number {
  const z = 1 / (Math.PI * lengthMm * eyeDecayPerMm(viewDistanceMm, luminanceCdPerM2));
  return 1 - Math.sqrt(Math.PI) * z * scaledErfc(z);
}

/** Sides of a piece, in multiples of ℓ, above which its edges hardly matter: the closed form is then within 2 %. */
const WIDE = 20;

/**
 * The same share on a piece of a given size, extended by its mirror images: Σ over the waves cos(πmx/w)·cos(πny/h) that fit the piece
 * of their shares of the variance times exp(−2f/f₀), f = √((m/2w)² + (n/2h)²). A small piece has fewer of the short waves that the
 * eye takes away. Source: statistics (expansion of the field in the waves of the mirrored piece).
 *
 * @param lengthMm ℓ of the correlation
 */
export function localSeenShareOn(
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  lengthMm: number,
  viewDistanceMm: number,
  luminanceCdPerM2: number,
): number {
  if (Math.min(widthMm, heightMm) > WIDE * lengthMm) {
    return localSeenShare(lengthMm, viewDistanceMm, luminanceCdPerM2);
  }
  const decayPerMm = eyeDecayPerMm(viewDistanceMm, luminanceCdPerM2);
  const along = waveShares(Math.min(widthMm, WIDE * lengthMm), lengthMm);
  const across = waveShares(Math.min(heightMm, WIDE * lengthMm), lengthMm);
  let seen = 0;
  for (const x of along) {
    for (const y of across) {
      seen += x.share * y.share * Math.exp((-2 * Math.hypot(x.perMm, y.perMm)) / decayPerMm);
    }
  }
  return seen;
}

/** Shares of the variance along one side in waves of m half periods, with their frequencies. Beyond the last lies under 1e-4. */
function waveShares(sideMm: number, lengthMm: number): { readonly perMm: number; readonly share: number }[] {
  const waves = Math.ceil((2.8 * sideMm) / lengthMm) + 8;
  const points = 4 * waves;
  const near = Array.from({ length: points }, (_, n) => Math.exp(-(((n * sideMm) / points / lengthMm) ** 2)));
  /** Points that correlate: beyond four ℓ less than 1e-6. */
  const reach = Math.ceil((4 * lengthMm * points) / sideMm);
  return Array.from({ length: waves }, (_, m) => {
    const wave = Array.from({ length: points }, (__, i) => Math.cos((m * Math.PI * (i + 0.5)) / points));
    let sum = 0;
    for (let i = 0; i < points; i++) {
      const end = Math.min(points, i + reach + 1);
      for (let j = Math.max(0, i - reach); j < end; j++) sum += near[Math.abs(i - j)] * wave[i] * wave[j];
    }
    return { perMm: m / (2 * sideMm), share: ((m === 0 ? 1 : 2) * sum) / points ** 2 };
  });
}

/**
 * Variance of the dose of independent lines behind spot and eye, as a share of the variance of a single line:
 * p/(√π·c)·exp(z²)·erfc(z), c = d/2, z = 1/(πc·f₀), f₀ the decay of the eye in cycles per mm. It is the integral of the flat
 * spectrum p times the squared modulations of spot and eye, exp(−π²c²f²)·exp(−2|f|/f₀), over all frequencies in one dimension:
 * the part above the line rate is the ripple between lines of different dose. Source: statistics; the eye as `eyeModulation`.
 *
 * @param pitchMm p, across the lines; @param spotMm 1/e² diameter d, across the lines
 */
export function lineSeenShare(
  pitchMm: number,
  spotMm: number,
  viewDistanceMm: number,
  luminanceCdPerM2: number,
): number {
  const overlapMm = spotMm / 2;
  const z = 1 / (Math.PI * overlapMm * eyeDecayPerMm(viewDistanceMm, luminanceCdPerM2));
  return (pitchMm / (Math.sqrt(Math.PI) * overlapMm)) * scaledErfc(z);
}

/** Mean of exp(−(x − y)²) over all pairs of points between 0 and u: √π·erf(u)/u − (1 − exp(−u²))/u². */
function meanCorrelation(u: number): number {
  return (Math.sqrt(Math.PI) * (1 - erfc(u))) / u + Math.expm1(-u * u) / (u * u);
}

/** Frequency in cycles per mm at which the eye leaves 1/e. */
function eyeDecayPerMm(viewDistanceMm: number, luminanceCdPerM2: number): number {
  return perMmFromCyclesPerDegree(eyeDecayCyclesPerDegree(luminanceCdPerM2), viewDistanceMm);
}
