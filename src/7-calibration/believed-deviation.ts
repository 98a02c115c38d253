import { BAND_DEVIATIONS, type Band } from "./band.js";
import type { LearntValue } from "./calibration.js";

/** What is believed of a standard deviation beforehand: 90 % within this factor either way, as of the diameter of a spot. */
const BELIEVED_FACTOR = Math.exp(0.5 * BAND_DEVIATIONS);

export const bandBelieved = (value: number): Band => ({
  low: value / BELIEVED_FACTOR,
  high: value * BELIEVED_FACTOR,
});

/** A value with a band, if that is narrower than what was believed, or lies below it; else what was believed. */
export function learntOrBelieved(value: number, band: Band, believed: number): LearntValue {
  const before = bandBelieved(believed);
  const isNarrower = band.high * before.low < band.low * before.high;
  return isNarrower || band.high < before.low ? { value, ...band, learnt: true } : asBelieved(believed, band);
}

/** The value stays as it was. The band is widened so far that it holds it. */
export const asBelieved = (value: number, { low, high }: Band): LearntValue => ({
  value,
  low: Math.min(value, low),
  high: Math.max(value, high),
  learnt: false,
});
