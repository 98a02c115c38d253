import { medianOf } from "../core/median.js";
import { nonnegativeLeastSquares } from "../core/nonnegative-least-squares.js";
import type { FitAtBeam, PatternData } from "./beam-search.js";
import type { MeasuredCard } from "./card.js";
import { splineMeans } from "./response-basis.js";

/** By how much patches differ that should be alike. Relative standard deviations. */
export interface PatchNoise {
  /** Of the luminance factor: the camera. */
  readonly reading: number;
  /** Of the dose: the machine and the material. */
  readonly dose: number;
}

/** Patterns as measured, with places that do not fit left out. */
export interface WeighedCard extends PatternData {
  readonly noise: PatchNoise;
  /** [pattern][place] share with which a place counts, 0..1; 0 if it is spoilt. */
  readonly weights: readonly Float64Array[];
}

/** Residuals beyond this many standard deviations count nothing (J. W. Tukey's biweight, at 95 % efficiency). */
const TUKEY = 4.685;
/** So small a difference of luminance factors is rounding of the reading and of our splines. */
const LEAST_ERROR = 4e-4;
/** With fewer places than this, a pattern cannot tell which of them is spoilt: the fit tells. */
const PLACES_TO_COMPARE = 3;
const ROUNDS = 4;
/** A guess that weighs the first residuals. */
const FIRST_NOISE: PatchNoise = { reading: 0.01, dose: 0.04 };

/** Before anything is known: medians of places, which spoilt ones hardly move, and equal errors. */
export function unweighedCard({ patterns }: MeasuredCard): PatternData {
  const luminance = Float64Array.from(patterns, ({ places }) =>
    medianOf(places.map((each) => each.luminance)),
  );
  const range = luminance.reduce((a, b) => Math.max(a, b)) - luminance.reduce((a, b) => Math.min(a, b));
  return { luminance, error: new Float64Array(patterns.length).fill(Math.max(LEAST_ERROR, 0.01 * range)) };
}

/** Errors of the patches from how places of the same pattern differ, and weights that leave out the spoilt ones. */
export function weighCard(card: MeasuredCard, fit: FitAtBeam): WeighedCard {
  const read = card.patterns.map(({ places }) => Float64Array.from(places, (place) => place.luminance));
  const facts = patternFacts(fit);
  const centres = read.map((values, k) =>
    values.length < PLACES_TO_COMPARE ? facts[k].luminance : medianOf(values),
  );
  const alone = (k: number): boolean => read[k].length < PLACES_TO_COMPARE;
  let squares = read.map((values, k) =>
    values.map(() => (alone(k) ? squareOf(values[0] - centres[k]) : typicalSquare(values))),
  );
  let weights = read.map((values) => new Float64Array(values.length).fill(1));
  let noise = FIRST_NOISE;
  for (let round = 0; round < ROUNDS; round++) {
    noise = noiseOf(squares, { facts, weights, noise });
    weights = read.map((values, k) =>
      values.map((value) => tukeyWeight((value - centres[k]) / deviation(facts[k], noise))),
    );
    for (const [k, values] of read.entries()) if (!alone(k)) centres[k] = weightedMean(values, weights[k]);
    squares = read.map((values, k) => {
      // The mean of few places lies nearer to them than the truth.
      const own = alone(k) ? 1 : values.length / (values.length - 1);
      return values.map((value) => own * squareOf(value - centres[k]));
    });
  }
  return {
    ...{ noise, weights },
    luminance: Float64Array.from(read, (values, k) => weightedMean(values, weights[k])),
    error: Float64Array.from(read, (_, k) => errorOf(facts[k], noise, weights[k])),
  };
}

/** A pattern whose every place is spoilt counts next to nothing. */
const errorOf = (facts: PatternFacts, noise: PatchNoise, weights: Float64Array): number =>
  Math.max(LEAST_ERROR, deviation(facts, noise) / Math.sqrt(Math.max(1e-6, sum(weights))));

/** What a fit says of a pattern. */
export interface PatternFacts {
  /** Luminance factor by the fit. */
  readonly luminance: number;
  /** Its change with ln dose. */
  readonly slope: number;
}

const DOSE_STEP = 1.02;

/** @param doseStep factor of the dose, each way, over which slopes are taken */
export function patternFacts({ design, response }: FitAtBeam, doseStep = DOSE_STEP): PatternFacts[] {
  return design.doses.map((doses, k) => {
    const at = (change: number): number =>
      splineMeans(design.basis, doses, change * design.factors[k]).reduce(
        (total, share, i) => total + share * response.coefficients[i],
        0,
      );
    return {
      luminance: at(1),
      slope: (at(doseStep) - at(1 / doseStep)) / (2 * Math.log(doseStep)),
    };
  });
}

const deviation = ({ luminance, slope }: PatternFacts, { reading, dose }: PatchNoise): number =>
  Math.max(LEAST_ERROR, Math.hypot(reading * luminance, dose * slope));

interface NoiseState {
  readonly facts: readonly PatternFacts[];
  readonly weights: readonly Float64Array[];
  readonly noise: PatchNoise;
}

/** Squared residuals as a sum of what the camera and what the dose adds, by weighted least squares. */
function noiseOf(squares: readonly Float64Array[], { facts, weights, noise }: NoiseState): PatchNoise {
  const equations = squares.flatMap((values, k) => {
    const { luminance, slope } = facts[k];
    const variance = deviation(facts[k], noise) ** 2;
    return [...values].map((square, i) => {
      // Weights that fall slowly would make the residuals seem smaller than they are.
      const weight = weights[k][i] > 0 ? 1 / variance : 0;
      return { coefficients: [weight * luminance ** 2, weight * slope ** 2], value: weight * square };
    });
  });
  const [reading, dose] = nonnegativeLeastSquares(equations);
  return { reading: Math.sqrt(reading), dose: Math.sqrt(dose) };
}

const squareOf = (value: number): number => value * value;

/** A variance that spoilt places hardly raise: from the median deviation, which of normal deviates is 1 / 1.4826 of the standard one. */
function typicalSquare(values: Float64Array): number {
  const centre = medianOf(values);
  return squareOf(1.4826 * medianOf([...values].map((value) => Math.abs(value - centre))));
}

const tukeyWeight = (deviations: number): number => Math.max(0, 1 - (deviations / TUKEY) ** 2) ** 2;

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);

function weightedMean(values: Float64Array, weights: Float64Array): number {
  const total = sum(weights);
  if (total === 0) return medianOf(values);
  return values.reduce((at, value, i) => at + value * weights[i], 0) / total;
}
