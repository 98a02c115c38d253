import { nonnegativeLeastSquares } from "../core/nonnegative-least-squares.js";
import { solvePositiveDefinite } from "../core/positive-definite.js";

/** How far the dose of a place is from what the card's fit expects there. */
export interface DosePlace {
  readonly xMm: number;
  /** Across the lines. */
  readonly yMm: number;
  /** ln of the dose over the expected one. */
  readonly lnDose: number;
  /** Standard deviation of that by the camera alone. */
  readonly readingError: number;
}

/** How the dose varies over a card. Relative standard deviations. */
export interface DoseVariation {
  /** From place to place, with a correlation of exp(−(r/ℓ)²). */
  readonly local: number;
  readonly localLengthMm: number;
  /** What places do not share with their neighbours: lines, each for itself, as far as they average out over a place. */
  readonly ofPlaces: number;
  /** Largest change of ln dose by a drift over the card. */
  readonly drift: number;
}

/** Lengths that are tried, in mm. The longest looks like a drift of a small card. */
const LENGTHS_MM = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12];
/** The shortest that can be told, as a share of the distance of neighbours: of shorter ones they share less than half. */
const LEAST_LENGTH = 1.2;
/** Distances are sorted into classes of this width. */
const CLASS_MM = 1.5;
/** Pairs of places further apart tell of drift only. */
const FURTHEST_MM = 25;

/**
 * Parts of the dose's variation, from places that should be alike. A slow drift (a plane) is taken off first, then known camera noise.
 * What neighbours share beyond that is local; the rest is each place's own.
 */
export function doseVariation(places: readonly DosePlace[]): DoseVariation {
  const plane = fittedPlane(places);
  const residuals = places.map((place, n) => place.lnDose - plane[n]);
  const classes = covarianceByDistance(places, residuals);
  const camera = places.reduce((sum, { readingError }) => sum + readingError ** 2, 0) / places.length;
  const variance = residuals.reduce((sum, each) => sum + each * each, 0) / (places.length - 3);
  const nearestMm = Math.min(...classes.map(({ distanceMm }) => distanceMm));
  const lengthsMm = LENGTHS_MM.filter((lengthMm) => lengthMm >= LEAST_LENGTH * nearestMm);
  const fits = lengthsMm.map((lengthMm) => ({ lengthMm, ...localPart(classes, lengthMm) }));
  const best = fits.reduce((a, b) => (b.squares < a.squares ? b : a));
  return {
    local: Math.sqrt(best.variance),
    localLengthMm: best.lengthMm,
    ofPlaces: Math.sqrt(Math.max(0, variance - camera - best.variance)),
    drift: Math.max(...plane) - Math.min(...plane),
  };
}

/** Values of the plane of least squares at the places. */
function fittedPlane(places: readonly DosePlace[]): number[] {
  const terms = places.map(({ xMm, yMm }) => [1, xMm, yMm]);
  const total = (of: (n: number) => number) => places.reduce((sum, _, n) => sum + of(n), 0);
  const matrix = [0, 1, 2].map((i) => [0, 1, 2].map((j) => total((n) => terms[n][i] * terms[n][j])));
  const right = [0, 1, 2].map((i) => total((n) => terms[n][i] * places[n].lnDose));
  const [a, b, c] = solvePositiveDefinite(matrix, right);
  return terms.map(([, x, y]) => a + b * x + c * y);
}

interface DistanceClass {
  readonly distanceMm: number;
  readonly covariance: number;
  readonly pairs: number;
}

function covarianceByDistance(places: readonly DosePlace[], residuals: readonly number[]): DistanceClass[] {
  const classes = Array.from({ length: Math.ceil(FURTHEST_MM / CLASS_MM) }, () => ({
    pairs: 0,
    product: 0,
    distance: 0,
  }));
  for (let i = 1; i < places.length; i++) {
    for (let j = 0; j < i; j++) {
      const distanceMm = Math.hypot(places[i].xMm - places[j].xMm, places[i].yMm - places[j].yMm);
      const at = classes[Math.floor(distanceMm / CLASS_MM)];
      if (!at) continue;
      at.pairs++;
      at.product += residuals[i] * residuals[j];
      at.distance += distanceMm;
    }
  }
  return classes
    .filter(({ pairs }) => pairs > 0)
    .map(({ pairs, product, distance }) => ({
      ...{ pairs, covariance: product / pairs, distanceMm: distance / pairs },
    }));
}

/** The variance of a local part of this length, by least squares weighted by pairs, and what is left. */
function localPart(classes: readonly DistanceClass[], lengthMm: number) {
  const equations = classes.map(({ distanceMm, covariance, pairs }) => ({
    coefficients: [Math.sqrt(pairs) * Math.exp(-((distanceMm / lengthMm) ** 2))],
    value: Math.sqrt(pairs) * covariance,
  }));
  const [variance] = nonnegativeLeastSquares(equations);
  const squares = equations.reduce(
    (sum, each) => sum + (each.value - variance * each.coefficients[0]) ** 2,
    0,
  );
  return { variance, squares };
}
