import { fitPolynomial } from "../../core/polynomial-fit.js";

/**
 * Tones that count in a detail: those that it holds, with the expected visual error E of a whole piece as noise of one more kind,
 * 1 + (held − 1) / √(1 + E²). One L* is just noticeable, as in the count of tones itself. A density that holds many tones of a
 * picture that comes out wrong is worth little. (The formula is ours.)
 */
export const usefulTones = (held: number, expectedError: number): number =>
  1 + (held - 1) / Math.sqrt(1 + expectedError ** 2);

/** Useful tones of the halftone that is best at one density. */
export interface DensityTrial {
  readonly linesPerInch: number;
  readonly tones: readonly { readonly detailMm: number; readonly useful: number }[];
}

/** Useful tones of fine details as a smooth function of the density. */
export interface WorthCurve {
  readonly usefulAt: (linesPerInch: number) => number;
  /** The density that is worth its time, if twice the time must add this share of useful tones. */
  readonly worthAt: (gain: number) => Worth;
}

/** The density that is worth its time. */
export interface Worth {
  readonly linesPerInch: number;
  /** True if twice the time still adds enough there: more density than this is not recommended for itself. */
  readonly isCapped: boolean;
}

/**
 * Details around the compared size count alike, by the geometric mean of their tones. One size alone may meet the period of a
 * screen and make its tones leap.
 */
const AROUND = [0.6, 1, 2] as const;

/**
 * Trials scatter by some 4 %, because a halftone's pattern meets a detail anew at every density. A cubic in the logarithms passes
 * that noise by and keeps the bend: the knee then scatters by about 2 %. A parabola scatters less, and bends with the range tried.
 */
const DEGREE = 3;

/** Steps in which the knee is searched, in ln density. */
const STEP = 0.005;

/**
 * @param trials by rising density, at least one, at densities that differ
 * @param detailMm side of the compared details
 */
export function worthCurve(trials: readonly DensityTrial[], detailMm: number): WorthCurve {
  const x = trials.map(({ linesPerInch }) => Math.log(linesPerInch));
  const range = [x[0], x[x.length - 1]] as const;
  const fitted = fitPolynomial(
    x,
    trials.map((trial) => logUsefulAround(trial, detailMm)),
    DEGREE,
  );
  const logUseful = (at: number): number => fitted(Math.min(range[1], Math.max(range[0], at)));
  return {
    usefulAt: (linesPerInch) => Math.exp(logUseful(Math.log(linesPerInch))),
    worthAt(gain) {
      const { at, isEnd } = kneeOf(logUseful, range, gain);
      return { linesPerInch: Math.exp(at), isCapped: isEnd };
    },
  };
}

/** Mean of the logarithms of useful tones in details around a size. */
function logUsefulAround({ tones }: DensityTrial, detailMm: number): number {
  const at = (side: number): number => betweenSides(tones, side);
  return AROUND.reduce((sum, times) => sum + at(times * detailMm), 0) / AROUND.length;
}

/**
 * The first place after which no place within a doubling is higher by ln(1 + gain) or more. A whole doubling must lie within the
 * range, so the last place is a doubling before its end.
 */
export function kneeOf(
  height: (x: number) => number,
  [first, last]: readonly [number, number],
  gain: number,
): { readonly at: number; readonly isEnd: boolean } {
  const enough = Math.log(1 + gain);
  const doubling = Math.round(Math.LN2 / STEP);
  const steps = Math.max(0, Math.floor((last - first) / STEP));
  const heights = Array.from({ length: steps + 1 }, (_, i) => height(first + i * STEP));
  const end = Math.max(0, steps - doubling);
  for (let i = 0; i < end; i++) {
    const most = Math.max(...heights.slice(i, i + doubling + 1));
    if (most - heights[i] < enough) return { at: first + i * STEP, isEnd: false };
  }
  return { at: first + end * STEP, isEnd: true };
}

/** Logarithm of the useful tones of a detail between two measured sides, straight over that of the side; constant beyond them. */
function betweenSides(tones: DensityTrial["tones"], detailMm: number): number {
  const above = tones.findIndex((each) => each.detailMm >= detailMm);
  if (above === 0) return Math.log(tones[0].useful);
  if (above < 0) return Math.log(tones[tones.length - 1].useful);
  const [from, to] = [tones[above - 1], tones[above]];
  const share = Math.log(detailMm / from.detailMm) / Math.log(to.detailMm / from.detailMm);
  return (1 - share) * Math.log(from.useful) + share * Math.log(to.useful);
}
