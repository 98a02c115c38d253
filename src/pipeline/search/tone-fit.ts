/** Sums over a part of a piece, from which errors and tone shifts follow. Errors are in L*, as seen. */
export interface ToneSums {
  readonly pixels: number;
  readonly wanted: number;
  readonly wantedSquares: number;
  /** [cases] */
  readonly errors: readonly number[];
  readonly squares: readonly number[];
  readonly withWanted: readonly number[];
}

/** The tone shift of a case: L* error = offset + slope · L* wanted. */
export interface ToneFit {
  readonly offset: number;
  readonly slope: number;
}

/** A smaller variance of L* is rounding. */
const ONE_TONE = 1e-6;

/** The least-squares fit of each case over all parts (section 13). */
export function toneFits(parts: readonly ToneSums[]): ToneFit[] {
  const total = (of: (part: ToneSums) => number): number => parts.reduce((sum, part) => sum + of(part), 0);
  const pixels = Math.max(
    1,
    total((part) => part.pixels),
  );
  const mean = total((part) => part.wanted) / pixels;
  const variance = total((part) => part.wantedSquares) / pixels - mean ** 2;
  return parts[0].errors.map((_, k) => {
    const error = total((part) => part.errors[k]) / pixels;
    const together = total((part) => part.withWanted[k]) / pixels - error * mean;
    const slope = variance < ONE_TONE ? 0 : together / variance;
    return { offset: error - slope * mean, slope };
  });
}
