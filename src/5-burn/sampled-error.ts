import type { TileSums } from "./tile-sums.js";

/** Difference between a predicted and a wanted picture as the eye sees it, in L* (section 6). About 1 is just noticeable. */
export interface VisualError {
  readonly rms: number;
  /** Mean of predicted minus wanted. */
  readonly bias: number;
}

/** A visual error from a part of the picture, with its standard errors: 0 if the whole picture was judged. */
export interface SampledVisualError extends VisualError {
  readonly rmsStandardError: number;
  readonly biasStandardError: number;
}

/** A part of the picture that is sampled for itself. */
export interface Stratum {
  /** Share of the picture, without its margin. All strata add up to 1. */
  readonly area: number;
  /** Share of the stratum that tiles cover: 1 for all of it. */
  readonly judged: number;
}

/** A mean over the picture and its standard error. */
export interface SampledMean {
  readonly mean: number;
  readonly standardError: number;
}

/**
 * Mean over a picture from sums over its tiles: each stratum's mean counts by the stratum's area.
 *
 * Standard errors are those of a mean over clusters of unequal size, with the finite population correction √(1 − share), and those
 * of strata add in squares (W. G. Cochran, Sampling Techniques, 3rd ed. 1977, sections 2.5, 5.4 and 9A.1). The tiles are spread
 * evenly, so the true errors are rather smaller. The standard error is Infinity if a stratum has one tile that does not cover it,
 * because one tile says nothing about the others.
 */
export function sampledMean(
  tiles: readonly TileSums[],
  strata: readonly Stratum[],
  sumOf: (tile: TileSums) => number,
): SampledMean {
  let [mean, variance] = [0, 0];
  strata.forEach(({ area, judged }, stratum) => {
    if (area === 0) return;
    const within = clusterMean(
      tiles.filter((tile) => tile.stratum === stratum),
      sumOf,
      judged,
    );
    mean += area * within.mean;
    variance += (area * within.standardError) ** 2;
  });
  return { mean, standardError: Math.sqrt(variance) };
}

/** Visual error of a picture from its tiles. The error of the root follows from that of the mean square: δ√m = δm/(2√m). */
export function visualErrorOf(
  tiles: readonly TileSums[],
  strata: readonly Stratum[],
  prediction: number,
): SampledVisualError {
  const square = sampledMean(tiles, strata, ({ predictions }) => predictions[prediction].squares);
  const difference = sampledMean(tiles, strata, ({ predictions }) => predictions[prediction].errors);
  const rms = Math.sqrt(square.mean);
  return {
    rms,
    bias: difference.mean,
    rmsStandardError: square.standardError === 0 ? 0 : square.standardError / (2 * rms),
    biasStandardError: difference.standardError,
  };
}

function clusterMean(
  tiles: readonly TileSums[],
  sumOf: (tile: TileSums) => number,
  share: number,
): SampledMean {
  const count = tiles.length;
  const pixels = tiles.reduce((total, tile) => total + tile.pixels, 0);
  const mean = tiles.reduce((total, tile) => total + sumOf(tile), 0) / pixels;
  if (share >= 1) return { mean, standardError: 0 };
  if (count === 1) return { mean, standardError: Number.POSITIVE_INFINITY };
  const scatter = tiles.reduce((total, tile) => total + (sumOf(tile) - mean * tile.pixels) ** 2, 0);
  const meanPixels = pixels / count;
  const variance = ((1 - share) * scatter) / (count * (count - 1) * meanPixels ** 2);
  return { mean, standardError: Math.sqrt(variance) };
}
