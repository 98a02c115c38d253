/** What holds the truth with 90 %. */
export interface Band {
  readonly low: number;
  readonly high: number;
}

/** Share of the truths below a band, and above it. */
const TAIL = 0.05;

/** The 90 % band of values as likely as one another. */
export function bandOf(values: readonly number[]): Band {
  const sorted = [...values].sort((a, b) => a - b);
  const beyond = Math.max(0, Math.round(TAIL * (sorted.length + 1)) - 1);
  return { low: sorted[beyond], high: sorted[sorted.length - 1 - beyond] };
}

/** A band that also holds a deviation of the value that draws do not know, independent of them. */
export function withDeviation({ low, high }: Band, value: number, deviation: number): Band {
  const more = BAND_DEVIATIONS * deviation;
  return { low: value - Math.hypot(value - low, more), high: value + Math.hypot(high - value, more) };
}

/** 95 % of a normal distribution lie below this many standard deviations: so 90 % lie within. */
export const BAND_DEVIATIONS = 1.645;

/**
 * The 90 % band of a value whose refits came out as these. Each side has a standard deviation of its own. Few refits tell a standard
 * deviation better than the ends of a band.
 */
export function bandByDeviations(value: number, refitted: readonly number[]): Band {
  const off = refitted.map((each) => each - value);
  const half = (side: readonly number[]): number =>
    BAND_DEVIATIONS * Math.sqrt(side.reduce((sum, each) => sum + each * each, 0) / Math.max(1, side.length));
  return {
    low: value - half(off.filter((each) => each < 0)),
    high: value + half(off.filter((each) => each > 0)),
  };
}
