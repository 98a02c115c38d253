/** Thin parts of a drawing: how long they are in all, and how thin. */
export interface ThinParts {
  readonly lengthMm: number;
  /** Drawn width that a twentieth of that length falls below; 0 where there are none. */
  readonly thinnestMm: number;
}

/** Adds up thin parts, piece by piece, by their width. */
export interface ThinPartTally {
  /** @param widthMm 0 up to the limit; wider parts are not thin */
  readonly add: (widthMm: number, lengthMm: number) => void;
  readonly parts: () => ThinParts;
}

const BINS = 64;

/** Tapered ends are thinner than any stroke; they make up less than this share of the length. */
const ENDS = 0.05;

/** @param limitMm widths from here up are not thin */
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
