/** Thin parts of a drawing: total length and width. */
export interface ThinParts {
  readonly lengthMm: number;
  /** Drawn width at the 5th percentile of that length; 0 if there are none. */
  readonly thinnestMm: number;
}

/** Adds up thin parts by width. */
export interface ThinPartTally {
  /** @param widthMm 0 or more; parts as wide as the limit are ignored */
  readonly add: (widthMm: number, lengthMm: number) => void;
  readonly parts: () => ThinParts;
}

const BINS = 64;

/** Share of the length that is ignored as tapered ends, which are thinner than their stroke. */
const ENDS = 0.05;

/** @param limitMm parts of this width or more are not thin */
export function tallyThinParts(limitMm: number): ThinPartTally {
  const lengths = new Float64Array(BINS);
  return {
    add(widthMm, lengthMm) {
      if (widthMm < limitMm) lengths[Math.max(0, Math.floor((widthMm / limitMm) * BINS))] += lengthMm;
    },
    parts() {
      const lengthMm = lengths.reduce((sum, length) => sum + length, 0);
      if (lengthMm === 0) return { lengthMm, thinnestMm: 0 };
      let bin = 0;
      for (let sum = lengths[0]; sum <= ENDS * lengthMm; sum += lengths[bin]) bin++;
      return { lengthMm, thinnestMm: ((bin + 0.5) / BINS) * limitMm };
    },
  };
}
