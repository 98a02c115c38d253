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

/** Sums over the core of one tile. */
export interface TileSums {
  readonly pixels: number;
  /** Sum of L* predicted minus L* wanted. */
  readonly differences: number;
  readonly squares: number;
}

/**
 * Visual error of a whole picture from some of its tiles.
 *
 * Standard errors are those of a mean over clusters of unequal size, with the finite population correction √(1 − share)
 * (W. G. Cochran, Sampling Techniques, 3rd ed. 1977, sections 2.5 and 9A.1). The tiles are spread evenly, so the true errors are
 * rather smaller. The error of the root follows from that of the mean square: δ√m = δm/(2√m). It is Infinity for one tile of
 * several, because one tile says nothing about the others.
 *
 * @param share part of the picture that the tiles cover, 0..1
 */
export function visualErrorOf(tiles: readonly TileSums[], share: number): SampledVisualError {
  const square = clusterMean(tiles, ({ squares }) => squares, share);
  const difference = clusterMean(tiles, ({ differences }) => differences, share);
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
): { readonly mean: number; readonly standardError: number } {
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
