import type { Spread } from "../core/spread.js";
import type { Combination, FieldBlocks } from "./field-blocks.js";
import { type Stratum, sampledMean } from "./sampled-error.js";
import type { TileSums } from "./tile-sums.js";

/** The visible share of an error: what is uneven within the piece, and what shifts all of its tones. Both in L*. */
export interface Parted {
  readonly unevenness: number;
  readonly toneShift: number;
}

/** Error of a piece under the variation of its machine (section 13), in L*. */
export interface VariedError extends Parted {
  /** √(unevenness² + (toneShift/3)²): a shift of the whole piece is judged from memory, not side by side. The third is ours. */
  readonly expected: number;
  /** What each part of the variation adds, in squares, to the nominal piece. */
  readonly parts: Readonly<Record<VariationPart, Parted>>;
}

export type VariationPart = "common" | "local" | "line" | "spot";

/** Predictions of a comparison that vary the machine, by their places. Prediction 0 is the nominal piece. */
export interface VariedRuns {
  /** At common dose factors 1 − σ and 1 + σ. Absent if the common part is 0. */
  readonly common?: readonly [number, number];
  /** Two neighbours at these dose factors, from which slopes are taken (see `VisualComparison`). */
  readonly slope: { readonly first: number; readonly factors: readonly [under: number, over: number] };
  /** With smaller and larger spots. Absent if the spot part is 0. */
  readonly spot?: readonly [number, number];
}

/** How much of the variance of a random field of doses the eye sees, and how much of it is left in means. */
export interface FieldShares {
  /** Share of its variance that passes the eye. */
  readonly seen: number;
  /** Share of its variance that is left in the mean over the piece. */
  readonly average: number;
  /** Share of its variance that a point of the surface gets: below 1 if several lines add their dose there. */
  readonly point: number;
}

/** Sums over tiles that stand for a picture. */
export interface JudgedSums {
  readonly tiles: readonly TileSums[];
  readonly strata: readonly Stratum[];
}

/** Sums of all tiles with the runs at other doses, and of some tiles with the runs of other spots too. */
export interface VariedSums {
  readonly all: JudgedSums;
  readonly some: JudgedSums;
  /** Of a picture that was judged at every pixel. */
  readonly blocks?: FieldBlocks | undefined;
}

/**
 * Unevenness, tone shift and expected error from the runs of section 13.
 *
 * For a run let e = L* predicted − L* wanted, as the eye sees both. Its least-squares fit a + b·L* wanted is the tone shift, the
 * rest is unevenness. Random fields need no runs: to second order in the field F of ln dose, L* = L₀ + s·F + ½c·F², with slope s
 * and curvature c of each pixel from the runs at two common doses. F is independent of the picture, so expected squares follow from
 * the means of s², c² and of their products with the wanted lightness.
 */
export function variedError(
  { all, some, blocks }: VariedSums,
  runs: VariedRuns,
  spread: Spread,
  fields: Readonly<Record<"local" | "line", FieldShares>>,
): VariedError {
  const tones = wantedTones(all);
  const nominal = fitOf(errorMoments(all, 0), tones);
  const surface = surfaceOf(all, runs.slope);
  const slopes = surface.momentsOf(surface.slope);
  const localShift =
    blocks?.shiftOf(surface.slope, tones, spread.localLengthMm) ??
    shiftByAverage(fields.local.average, slopes.square, fitOf(slopes, tones).shift);
  // Lines are too thin to go with the tones of a picture.
  const lineShift = fields.line.average * slopes.square;
  const tonesHere = wantedTones(some);
  const fitHere = (place: number): Fit => fitOf(errorMoments(some, place), tonesHere, tones);
  const parts = {
    common: added(
      runs.common?.map((place) => fitOf(errorMoments(all, place), tones)),
      nominal,
    ),
    local: added([fieldFit(surface, tones, spread.local ** 2, fields.local, localShift)], nominal),
    line: added([fieldFit(surface, tones, spread.line ** 2, fields.line, lineShift)], nominal),
    spot: added(runs.spot?.map(fitHere), fitHere(0)),
  };
  const total = (start: number, name: keyof Parted): number =>
    Math.sqrt(Object.values(parts).reduce((sum, part) => sum + part[name] ** 2, start));
  const unevenness = total(nominal.uneven, "unevenness");
  const toneShift = total(nominal.shift, "toneShift");
  return { unevenness, toneShift, expected: Math.hypot(unevenness, toneShift / 3), parts };
}

/** Roots of what the mean of some fits exceeds another fit by; 0 if nothing. */
function added(fits: readonly Fit[] | undefined, without: Fit): Parted {
  const excess = (name: keyof Fit): number => {
    if (!fits) return 0;
    const mean = fits.reduce((sum, fit) => sum + fit[name], 0) / fits.length;
    return Math.sqrt(Math.max(0, mean - without[name]));
  };
  return { unevenness: excess("uneven"), toneShift: excess("shift") };
}

/**
 * Square of the shift by a field of variance 1, if it is not known how its slope lies over the piece. A field much shorter than the
 * piece puts its average into both terms of the fit; one much longer acts like a common dose.
 */
const shiftByAverage = (average: number, square: number, fitted: number): number =>
  average * (average * fitted + (1 - average) * 2 * square);

/** Mean squares of an error: about its fit to the wanted lightness, and of the fit itself. */
interface Fit {
  readonly uneven: number;
  readonly shift: number;
}

/** Means over the picture of an error e: e, e², and e · L* wanted. */
interface Moments {
  readonly mean: number;
  readonly square: number;
  readonly withWanted: number;
}

/** Mean and variance of the wanted lightness. The variance of a picture of one tone is 0. */
interface Tones {
  readonly mean: number;
  readonly variance: number;
}

/** A smaller variance of L* is rounding. */
const ONE_TONE = 1e-6;

/** @param whole tones of the whole picture, if the moments come from a part of it */
function fitOf({ mean, square, withWanted }: Moments, tones: Tones, whole: Tones = tones): Fit {
  const slope = tones.variance === 0 ? 0 : (withWanted - mean * tones.mean) / tones.variance;
  const uneven = square - mean ** 2 - slope ** 2 * tones.variance;
  const shiftAtMean = mean + slope * (whole.mean - tones.mean);
  return { uneven: Math.max(0, uneven), shift: shiftAtMean ** 2 + slope ** 2 * whole.variance };
}

const meanOf = ({ tiles, strata }: JudgedSums, sumOf: (tile: TileSums) => number): number =>
  sampledMean(tiles, strata, sumOf).mean;

function wantedTones(judged: JudgedSums): Tones {
  const mean = meanOf(judged, ({ wanted }) => wanted);
  const variance = meanOf(judged, ({ wantedSquares }) => wantedSquares) - mean ** 2;
  return { mean, variance: variance < ONE_TONE ? 0 : variance };
}

const errorMoments = (judged: JudgedSums, prediction: number): Moments => ({
  mean: meanOf(judged, ({ predictions }) => predictions[prediction].errors),
  square: meanOf(judged, ({ predictions }) => predictions[prediction].squares),
  withWanted: meanOf(judged, ({ predictions }) => predictions[prediction].withWanted),
});

/** The moments of combinations of three errors. */
interface Surface {
  readonly momentsOf: (weights: Combination) => Moments;
  /** Slope dL*⁄dF and curvature d²L*⁄dF² at F = ln dose = 0, by the parabola through three doses. */
  readonly slope: Combination;
  readonly curvature: Combination;
}

function surfaceOf(judged: JudgedSums, { first, factors }: VariedRuns["slope"]): Surface {
  const own = [0, first, first + 1].map((place) => errorMoments(judged, place));
  const [firstUnder, firstOver, underOver] = [0, 1, 2].map((k) => meanOf(judged, ({ cross }) => cross[k]));
  const products = [
    [own[0].square, firstUnder, firstOver],
    [firstUnder, own[1].square, underOver],
    [firstOver, underOver, own[2].square],
  ];
  const [low, high] = factors.map(Math.log);
  return {
    momentsOf: (weights) => ({
      mean: dot(
        weights,
        own.map(({ mean }) => mean),
      ),
      square: dot(
        weights,
        products.map((row) => dot(weights, row)),
      ),
      withWanted: dot(
        weights,
        own.map(({ withWanted }) => withWanted),
      ),
    }),
    slope: [-(low + high) / (low * high), high / (low * (high - low)), -low / (high * (high - low))],
    curvature: [2 / (low * high), 2 / (low * (low - high)), 2 / (high * (high - low))],
  };
}

const dot = (weights: Combination, values: readonly number[]): number =>
  weights.reduce((sum, weight, k) => sum + weight * values[k], 0);

/**
 * Expected fit under a random field of ln dose with this variance.
 *
 * @param shiftShare mean square of the shift by a field of variance 1
 */
function fieldFit(
  surface: Surface,
  tones: Tones,
  variance: number,
  { seen, point }: FieldShares,
  shiftShare: number,
): Fit {
  const { momentsOf, slope, curvature } = surface;
  const half = (variance * point) / 2;
  const drifted = fitOf(
    momentsOf([1 + half * curvature[0], half * curvature[1], half * curvature[2]]),
    tones,
  );
  const swing = seen * momentsOf(slope).square;
  const shift = variance * Math.min(swing, shiftShare);
  const bent = (variance ** 2 * seen * momentsOf(curvature).square) / 2;
  return { uneven: drifted.uneven + variance * swing - shift + bent, shift: drifted.shift + shift };
}
