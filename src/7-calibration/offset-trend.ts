import { cubicTerms } from "../core/cubic-terms.js";
import { dot, solvePositiveDefinite } from "../core/positive-definite.js";
import type { Symmetric } from "./patch-covariance.js";
import type { VariedPatch } from "./varied-patch.js";

/**
 * What changes slowly over a card, taken off by weighted least squares: light that was not made quite even (a surface of the third order
 * in ln luminance), the dose of the whole card, and a drift of the dose (a plane in ln dose).
 */
export interface Trend {
  /** [term][patch] */
  readonly terms: readonly Float64Array[];
  /** [term][patch] what an offset adds to the factor of a term. */
  readonly factors: readonly Float64Array[];
}

export function trendOf(patches: readonly VariedPatch[], weights: Float64Array): Trend {
  const [x, y] = [scaled(patches.map(({ xMm }) => xMm)), scaled(patches.map(({ yMm }) => yMm))];
  const rows = patches.map(({ gain }, i) => {
    const [u, v] = [x[i], y[i]];
    return [...cubicTerms(u, v), gain, gain * u, gain * v];
  });
  const terms = rows[0].map((_, a) => Float64Array.from(rows, (row) => row[a]));
  const weighted = terms.map((term) => term.map((value, i) => value * weights[i]));
  const matrix = (): number[][] => terms.map((a) => weighted.map((b) => dot(a, b)));
  const inverse = terms.map((_, a) =>
    solvePositiveDefinite(
      matrix(),
      terms.map((__, b) => (a === b ? 1 : 0)),
    ),
  );
  const factors = inverse.map((row) =>
    Float64Array.from(patches, (_, i) => row.reduce((sum, value, b) => sum + value * weighted[b][i], 0)),
  );
  return { terms, factors };
}

/** To −1 … 1. */
function scaled(values: readonly number[]): number[] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return values.map((value) => (high > low ? (2 * value - low - high) / (high - low) : 0));
}

/** Offsets without the trend, and the largest change of ln dose by the drift. */
export function withoutTrend({ terms, factors }: Trend, offsets: Float64Array) {
  const found = factors.map((factor) => dot(factor, offsets));
  const [alongX, alongY] = found.slice(-2);
  return {
    left: offsets.map((offset, i) => offset - found.reduce((sum, each, a) => sum + each * terms[a][i], 0)),
    drift: 2 * (Math.abs(alongX) + Math.abs(alongY)),
  };
}

/** The covariance of offsets without the trend, from that of the offsets: P · C · Pᵀ with P = 1 − terms · factors. */
export function covarianceWithoutTrend({ terms, factors }: Trend, covariance: Symmetric): Symmetric {
  const count = terms[0].length;
  const half = factors.map((factor) => timesSymmetric(covariance, factor));
  const among = half.map((row) => factors.map((factor) => dot(row, factor)));
  half.forEach((row, a) => {
    for (let i = 0; i < count; i++) {
      for (let b = 0; b < terms.length; b++) row[i] -= 0.5 * among[a][b] * terms[b][i];
    }
  });
  const left = Float64Array.from(covariance);
  for (let a = 0; a < terms.length; a++) {
    const [term, row] = [terms[a], half[a]];
    for (let i = 0, n = 0; i < count; i++) {
      for (let j = 0; j <= i; j++) left[n++] -= term[i] * row[j] + row[i] * term[j];
    }
  }
  return left;
}

function timesSymmetric(matrix: Symmetric, vector: Float64Array): Float64Array {
  const result = new Float64Array(vector.length);
  for (let i = 0, n = 0; i < vector.length; i++) {
    for (let j = 0; j < i; j++, n++) {
      result[i] += matrix[n] * vector[j];
      result[j] += matrix[n] * vector[i];
    }
    result[i] += matrix[n++] * vector[i];
  }
  return result;
}
