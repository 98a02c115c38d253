/**
 * The power that gives a dose. The dose of a fill is proportional to power over speed and pitch (`meanArealDoseJPerMm2`).
 */

/** A setting of the machine that gives a solid fill full tone in one pass. */
export interface FullTone {
  /** Of the machine's power. */
  readonly percent: number;
  readonly pitchMm: number;
  readonly speedMmPerS: number;
  /** Whether the user named the speed. Otherwise it is the job's. */
  readonly isSpeedNamed?: true;
}

/** A solid fill. */
export interface Fill {
  /** Mean dose, 1 for full tone. */
  readonly dose: number;
  readonly pitchMm: number;
  readonly speedMmPerS: number;
  readonly passes: number;
  /** How the doses of lines combine, and so those of passes: see `MaterialData`. */
  readonly lineExponent?: number | undefined;
}

/** Dose of n equal passes over that of one: n, or less if lines that come later do not add. Source: section 14 of the model. */
export const doseOfPasses = (passes: number, lineExponent = 1): number => passes ** (1 / lineExponent);

/** Percent of the machine's power that each pass of a fill needs. Source: energy balance. */
export function powerPercentFor(found: FullTone, fill: Fill): number {
  const { dose, pitchMm, speedMmPerS, passes, lineExponent } = fill;
  const energy = (pitchMm / found.pitchMm) * (speedMmPerS / found.speedMmPerS);
  return (found.percent * dose * energy) / doseOfPasses(passes, lineExponent);
}
