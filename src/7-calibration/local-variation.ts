import { nonnegativeSolution } from "../core/nonnegative-least-squares.js";
import { dot } from "../core/positive-definite.js";
import { covarianceWithoutTrend, type Trend, trendOf } from "./offset-trend.js";
import {
  blotchCovariance,
  SHARED,
  type Symmetric,
  sharedCovariances,
  symmetric,
} from "./patch-covariance.js";
import type { VariedCard } from "./varied-patch.js";

/** Why patches differ: blotches of the dose, and what else. */
export interface PatchVariances {
  /** Of ln dose, with the correlation exp(−(r/ℓ)²). */
  readonly local: number;
  /** Place of ℓ in `LENGTHS_MM`. */
  readonly length: number;
  /** In the order of `SHARED`. */
  readonly shared: Float64Array;
}

/** Lengths ℓ that are tried: shorter blotches average out within a patch, longer ones are a drift of the card. */
export const LENGTHS_MM = Array.from({ length: 18 }, (_, k) => 0.8 * 1.17 ** k);
const ROUNDS = 3;
/** Before anything is known. */
const FIRST_OFFSET = 0.01;
const FIRST_DOSE = 0.03;
/** So little makes any patch differ. */
const LEAST_VARIANCE = 1e-6;

/** Covariances by variances of 1. */
interface Components {
  /** [length] */
  readonly blotches: readonly Symmetric[];
  /** [of `SHARED`] */
  readonly shared: readonly Symmetric[];
}

/** What the offsets of a card have to do with the variances. */
export interface VarianceProblem {
  readonly count: number;
  readonly trend: Trend;
  readonly whole: Components;
  /** Of offsets without the trend. */
  readonly left: Components;
  /** Places in `SHARED` of what is fitted. */
  readonly free: readonly number[];
  /** Variances that are known, in the order of `SHARED`; 0 for what is fitted. */
  readonly given: Float64Array;
}

/** The same with weights of the pairs. */
interface WeightedProblem extends VarianceProblem {
  readonly weights: Symmetric;
  /** [length] of blotches first, then of what is shared and free. */
  readonly matrices: readonly (readonly Float64Array[])[];
}

/** Offsets of the patches of each card, without the trend. */
export type Offsets = readonly Float64Array[];

/** @param lineVariance of the dose from line to line; undefined to fit it too */
export function varianceProblem(
  { patches, grid }: VariedCard,
  lineVariance: number | undefined,
): VarianceProblem {
  const isGiven = (k: number): boolean => SHARED[k] === "lines" && lineVariance !== undefined;
  const trend = trendOf(
    patches,
    Float64Array.from(patches, ({ gain }) => 1 / (FIRST_OFFSET ** 2 + (FIRST_DOSE * gain) ** 2)),
  );
  const whole = {
    blotches: LENGTHS_MM.map((lengthMm) => blotchCovariance(patches, grid, lengthMm)),
    shared: sharedCovariances(patches, grid),
  };
  const without = (covariance: Symmetric) => covarianceWithoutTrend(trend, covariance);
  return {
    ...{ count: patches.length, trend, whole },
    left: { blotches: whole.blotches.map(without), shared: whole.shared.map(without) },
    free: SHARED.map((_, k) => k).filter((k) => !isGiven(k)),
    given: Float64Array.from(SHARED, (_, k) => (isGiven(k) ? (lineVariance ?? 0) : 0)),
  };
}

/** The variances whose covariances come nearest to the products of offsets, pair by pair. */
export function fitVariances(problems: readonly VarianceProblem[], offsets: Offsets) {
  let own = offsets.map((each) => each.map(() => 1));
  for (let round = 1; ; round++) {
    const weighted = problems.map((problem, c) => weightedProblem(problem, own[c]));
    const solve = (again: Offsets): PatchVariances => solveVariances(weighted, again);
    const variances = solve(offsets);
    if (round === ROUNDS) return { variances, solve };
    own = problems.map(({ left, count }) => diagonalOf(covarianceOf(left, variances), count));
  }
}

/** A product of normal deviates has the variance of both; a square has twice that. */
function weightedProblem(problem: VarianceProblem, own: Float64Array): WeightedProblem {
  const weights = symmetric(problem.count, (i, j) => (i === j ? 0.5 : 1) / (own[i] * own[j]));
  const shared = problem.free.map((k) => problem.left.shared[k]);
  const weighted = shared.map((column) => column.map((value, n) => value * weights[n]));
  const among = weighted.map((a) => shared.map((b) => dot(a, b)));
  const matrices = problem.left.blotches.map((local) => {
    const withShared = weighted.map((column) => dot(local, column));
    const square = local.reduce((sum, value, n) => sum + weights[n] * value * value, 0);
    return [
      Float64Array.of(square, ...withShared),
      ...among.map((row, k) => Float64Array.of(withShared[k], ...row)),
    ];
  });
  return { ...problem, weights, matrices };
}

function solveVariances(problems: readonly WeightedProblem[], offsets: Offsets): PatchVariances {
  const { given, free } = problems[0];
  const rights = problems.map((problem, c) => rightSides(problem, offsets[c]));
  const byLength = LENGTHS_MM.map((_, length) => {
    const right = rights.map((each) => each[length]).reduce(summed);
    const matrix = problems
      .map(({ matrices }) => matrices[length])
      .reduce((a, b) => a.map((row, k) => summed(row, b[k])));
    const found = nonnegativeSolution({ matrix, right });
    return { length, found, gained: dot(found, right) };
  });
  const best = byLength.reduce((a, b) => (b.gained > a.gained ? b : a));
  const shared = Float64Array.from(given);
  free.forEach((k, place) => {
    shared[k] = best.found[place + 1];
  });
  return { local: best.found[0], length: best.length, shared };
}

const summed = (a: Float64Array, b: Float64Array) => a.map((value, k) => value + b[k]);

/** [length] right sides of the normal equations. */
function rightSides({ count, left, weights, given, free }: WeightedProblem, offsets: Float64Array) {
  const products = symmetric(count, (i, j) => offsets[i] * offsets[j]);
  given.forEach((variance, k) => {
    if (variance > 0) for (let n = 0; n < products.length; n++) products[n] -= variance * left.shared[k][n];
  });
  for (let n = 0; n < products.length; n++) products[n] *= weights[n];
  const right = free.map((k) => dot(products, left.shared[k]));
  return left.blotches.map((local) => Float64Array.of(dot(products, local), ...right));
}

export function covarianceOf(
  { blotches, shared }: Components,
  { local, length, shared: variances }: PatchVariances,
): Symmetric {
  const sum = blotches[length].map((value) => local * value);
  shared.forEach((column, k) => {
    if (variances[k] > 0) for (let n = 0; n < sum.length; n++) sum[n] += variances[k] * column[n];
  });
  return sum;
}

const diagonalOf = (matrix: Symmetric, count: number) =>
  Float64Array.from({ length: count }, (_, i) => Math.max(LEAST_VARIANCE, matrix[(i * (i + 3)) / 2]));
