import { erfc } from "../core/physics/erf.js";
import { type PatchGrid, sharedLines, type VariedPatch } from "./varied-patch.js";

/** Lengths of a grain that is longer than a patch, along one side. */
const GRAIN_LENGTHS_MM = [5, 14] as const;

/** Why offsets of patches go together, beside blotches of the dose. */
export const SHARED = [
  "lines",
  "pattern",
  "patternDose",
  "own",
  "alongShort",
  "alongLong",
  "acrossShort",
  "acrossLong",
] as const;

/** A symmetric matrix over patches, row by row up to the diagonal. */
export type Symmetric = Float64Array;

export function symmetric(count: number, of: (i: number, j: number) => number): Symmetric {
  const values = new Float64Array((count * (count + 1)) / 2);
  for (let i = 0, n = 0; i < count; i++) for (let j = 0; j <= i; j++) values[n++] = of(i, j);
  return values;
}

/** [of `SHARED`] covariance of the offsets by what has the variance 1. */
export function sharedCovariances(patches: readonly VariedPatch[], grid: PatchGrid): Symmetric[] {
  const perPatch = grid.pitchMm / grid.heightMm;
  const isNear = (mm: number): boolean => Math.abs(mm) < grid.stepMm / 2;
  const matrix = (of: (a: VariedPatch, b: VariedPatch) => number): Symmetric =>
    symmetric(patches.length, (i, j) => of(patches[i], patches[j]));
  const grain = (lengthMm: number, mm: number): number => Math.exp(-((mm / lengthMm) ** 2));
  return [
    matrix((a, b) =>
      isNear(a.yMm - b.yMm) ? perPatch * a.gain * b.gain * sharedLines(a.lines, b.lines) : 0,
    ),
    matrix((a, b) => (a.pattern === b.pattern ? 1 : 0)),
    matrix((a, b) => (a.pattern === b.pattern ? a.gain * b.gain : 0)),
    matrix((a, b) => (a === b ? 1 : 0)),
    ...GRAIN_LENGTHS_MM.map((lengthMm) =>
      matrix((a, b) => (isNear(a.yMm - b.yMm) ? grain(lengthMm, a.xMm - b.xMm) : 0)),
    ),
    ...GRAIN_LENGTHS_MM.map((lengthMm) =>
      matrix((a, b) => (isNear(a.xMm - b.xMm) ? grain(lengthMm, a.yMm - b.yMm) : 0)),
    ),
  ];
}

/** Covariance of the offsets by blotches of the dose with the variance 1 and the correlation exp(−(r/ℓ)²). */
export function blotchCovariance(
  patches: readonly VariedPatch[],
  { widthMm, heightMm }: PatchGrid,
  lengthMm: number,
): Symmetric {
  const known = new Map<number, number>();
  const share = (apartMm: number, sideMm: number): number => {
    const key = Math.round(1000 * Math.abs(apartMm)) + sideMm / 1000;
    const value = known.get(key) ?? meanOfSides(Math.abs(apartMm) / lengthMm, sideMm / lengthMm);
    known.set(key, value);
    return value;
  };
  return symmetric(patches.length, (i, j) => {
    const [a, b] = [patches[i], patches[j]];
    return a.gain * b.gain * share(a.xMm - b.xMm, widthMm) * share(a.yMm - b.yMm, heightMm);
  });
}

/**
 * Mean of exp(−(s − t)²) over all pairs of points of two sides of this length and so far apart: the second difference of the twofold
 * integral of the correlation.
 */
const meanOfSides = (apart: number, side: number): number =>
  (twiceIntegrated(apart + side) - 2 * twiceIntegrated(apart) + twiceIntegrated(apart - side)) / side ** 2;

/** A function whose second derivative is exp(−z²). */
const twiceIntegrated = (z: number): number =>
  (z * Math.sqrt(Math.PI) * (1 - erfc(z)) + Math.exp(-z * z)) / 2;
