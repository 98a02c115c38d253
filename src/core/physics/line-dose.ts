/**
 * Dose of pulses and scan lines of a Gaussian beam, the width they mark, and the ripple of a fill.
 * d is the 1/e² spot diameter in mm; power is W, speed mm/s, energy J, dose J/mm².
 */

/** Peak of an isolated line over the mean dose of lines one spot diameter apart: √(8/π). */
const PEAK_AT_MATCHED_PITCH = Math.sqrt(8 / Math.PI);

/** Peak fluence in J/mm² of a Gaussian pulse: F0 = 8E/(π d²). Source: Liu, Opt. Lett. 7, 196 (1982). */
export function peakFluenceJPerMm2(energyJ: number, spotDiameterMm: number): number {
  return (8 * energyJ) / (Math.PI * spotDiameterMm ** 2);
}

/**
 * Peak dose in J/mm² of one line drawn by a continuous Gaussian beam: H0 = √(8/π)·P/(d·v).
 * Source: integral of the Gaussian profile along the line.
 */
export function linePeakDoseJPerMm2(powerW: number, speedMmPerS: number, spotDiameterMm: number): number {
  return (PEAK_AT_MATCHED_PITCH * powerW) / (spotDiameterMm * speedMmPerS);
}

/**
 * The same peak relative to the mean dose of a solid fill at this pitch, the model's dose unit:
 * √(8/π)·pitch/d.
 * Source: Gaussian profile (ISO 11146-1, 2021).
 */
export function relativeLinePeakDose(pitchAcrossMm: number, spotDiameterMm: number): number {
  return (PEAK_AT_MATCHED_PITCH * pitchAcrossMm) / spotDiameterMm;
}

/**
 * Dose of one line at a distance y across it, in the unit of the peak: H(y) = H0·exp(−8 y²/d²).
 * Source: Gaussian profile (ISO 11146-1, 2021).
 */
export function lineDoseAtOffset(peakDose: number, offsetMm: number, spotDiameterMm: number): number {
  return peakDose * Math.exp(-8 * (offsetMm / spotDiameterMm) ** 2);
}

/** Mean dose in J/mm² of a filled area: H = P/(v·pitch), for any spot. Source: energy balance. */
export function meanArealDoseJPerMm2(powerW: number, speedMmPerS: number, pitchAcrossMm: number): number {
  return powerW / (speedMmPerS * pitchAcrossMm);
}

/** Energy in J per pixel of a line: P·pitch/v. Source: kinematics. */
export function energyPerPixelJ(powerW: number, pitchAlongMm: number, speedMmPerS: number): number {
  return (powerW * pitchAlongMm) / speedMmPerS;
}

/** Time in s that the spot takes to pass a point: d/v. Source: kinematics. */
export function dwellTimeS(spotDiameterMm: number, speedMmPerS: number): number {
  return spotDiameterMm / speedMmPerS;
}

/**
 * Width in mm marked by a Gaussian dose on a material with a hard threshold: m = d·√(ln(peak/threshold)/2),
 * 0 if the peak does not exceed the threshold. For a pulse this is the marked diameter, for a line its width;
 * ratio 2 marks the FWHM, ratio e² the 1/e² diameter.
 * Source: Liu, "Simple technique for measurements of pulsed Gaussian-beam spot sizes", Opt. Lett. 7, 196 (1982).
 *
 * @param peakToThreshold peak dose over threshold dose, both in the same unit
 */
export function markedWidthMm(spotDiameterMm: number, peakToThreshold: number): number {
  if (peakToThreshold <= 1) return 0;
  return spotDiameterMm * Math.sqrt(Math.log(peakToThreshold) / 2);
}

/** Spot and threshold recovered from marks. */
export interface ThresholdFit {
  /** 1/e² diameter of the spot that made the marks. */
  spotDiameterMm: number;
  /** Threshold, in the unit of the peak doses given. */
  threshold: number;
}

/**
 * Spot diameter and threshold from marked widths at several peak doses: least squares of m² on ln(peak),
 * whose slope is d²/2 and whose zero is the threshold. Leave out doses that marked nothing, because the straight
 * line holds only above the threshold. A beam that is not Gaussian biases the result
 * (Garcia-Lechuga & Grojo, Open Res. Europe 1:7 (2021)). NaN if the doses do not differ or the marks
 * do not grow with dose. Source: Liu, Opt. Lett. 7, 196 (1982).
 *
 * @param peakDoses positive, any one unit
 * @param markedWidthsMm one for each dose
 */
export function fitSpotAndThreshold(
  peakDoses: ArrayLike<number>,
  markedWidthsMm: ArrayLike<number>,
): ThresholdFit {
  const count = peakDoses.length;
  let meanLog = 0;
  let meanSquare = 0;
  for (let i = 0; i < count; i++) {
    meanLog += Math.log(peakDoses[i]) / count;
    meanSquare += markedWidthsMm[i] ** 2 / count;
  }
  let covariance = 0;
  let variance = 0;
  for (let i = 0; i < count; i++) {
    const deviation = Math.log(peakDoses[i]) - meanLog;
    covariance += deviation * (markedWidthsMm[i] ** 2 - meanSquare);
    variance += deviation ** 2;
  }
  const slope = covariance / variance;
  if (!(slope > 0)) return { spotDiameterMm: Number.NaN, threshold: Number.NaN };
  return { spotDiameterMm: Math.sqrt(2 * slope), threshold: Math.exp(meanLog - meanSquare / slope) };
}

/**
 * Threshold after several equal pulses, in the unit of the first: Fth(N) = Fth(1)·N^(ξ−1).
 * Source: Jee, Becker & Walser, J. Opt. Soc. Am. B 5, 648 (1988).
 *
 * @param incubationExponent ξ, 1 for no incubation, usually 0.8 to 1
 */
export function incubatedThreshold(
  singlePulseThreshold: number,
  incubationExponent: number,
  pulses: number,
): number {
  return singlePulseThreshold * pulses ** (incubationExponent - 1);
}

/** Above this pitch over diameter, neighbouring lines add less than one part in 10⁸⁰ to a peak. */
const SEPARATE_LINES = 5;

/** Sums of 2·q_m over odd and over even m, q_m = exp(−π² m²/(8 s²)), s = pitch over diameter. */
function rippleHarmonics(pitchOverDiameter: number): { odd: number; even: number } {
  const decay = Math.PI ** 2 / (8 * pitchOverDiameter ** 2);
  // q_m falls below the rounding of 1 before m = 6 s.
  const last = Math.ceil(6 * pitchOverDiameter);
  let odd = 0;
  let even = 0;
  for (let m = 1; m <= last; m += 2) {
    odd += 2 * Math.exp(-decay * m * m);
    even += 2 * Math.exp(-decay * (m + 1) * (m + 1));
  }
  return { odd, even };
}

/**
 * Smallest and largest dose of a solid fill over its mean, for parallel Gaussian lines: 1 + even ∓ odd sums of
 * 2·exp(−π² m²/(8 s²)), s = pitch/d. Source: Poisson summation of equally spaced Gaussians.
 */
export function rippleExtremes(pitchOverDiameter: number): { min: number; max: number } {
  if (pitchOverDiameter > SEPARATE_LINES) {
    return { min: 0, max: PEAK_AT_MATCHED_PITCH * pitchOverDiameter };
  }
  const { odd, even } = rippleHarmonics(pitchOverDiameter);
  return { min: Math.max(0, 1 + even - odd), max: 1 + even + odd };
}

/** Places across a line of a fill, more where lines stand apart: at least this many to a spot diameter. */
const PLACES_PER_SPOT = 512;
/** Up to this pitch over diameter the ripple is below one part in 10¹³. */
const EVEN_FILL = 0.2;
/** Spot diameters beyond which a line gives less than one part in 10¹⁵ of its peak. */
const LINE_REACH = 2.1;

/**
 * Dose of a solid fill over its mean at equally spaced places from the centre of a line to half-way to the next, for parallel
 * Gaussian lines: the sum of the lines. Its mean is 1. Source: Gaussian profile (ISO 11146-1, 2021).
 *
 * @param pitchOverDiameter pitch over 1/e² spot diameter, both across the lines
 * @param exponent q of lines that do not add: (Σ dose^q)^(1/q), over the mean that they would have if they added
 */
export function rippleDoses(pitchOverDiameter: number, exponent = 1): Float64Array {
  if (pitchOverDiameter < EVEN_FILL && exponent === 1) return new Float64Array(1).fill(1);
  const places = Math.ceil((PLACES_PER_SPOT / 2) * Math.max(1, pitchOverDiameter));
  const lines = Math.ceil(LINE_REACH / pitchOverDiameter) + 1;
  const peak = relativeLinePeakDose(pitchOverDiameter, 1);
  return Float64Array.from({ length: places }, (_, i) => {
    const place = ((i + 0.5) / places / 2) * pitchOverDiameter;
    let dose = 0;
    for (let line = -lines; line <= lines; line++) {
      dose += lineDoseAtOffset(peak, place - line * pitchOverDiameter, 1) ** exponent;
    }
    return dose ** (1 / exponent);
  });
}

/**
 * Dose modulation (max − min)/(max + min) of a solid fill, 0..1, for parallel Gaussian lines s = pitch/d
 * apart; close to 2·exp(−π²/(8 s²)) for s < 0.8. Source: as `rippleExtremes`.
 */
export function rippleModulation(pitchOverDiameter: number): number {
  if (pitchOverDiameter > SEPARATE_LINES) return 1;
  // Not computed from the extremes: their difference would lose all digits of a small ripple.
  const { odd, even } = rippleHarmonics(pitchOverDiameter);
  return odd / (1 + even);
}

/**
 * Largest dose of a solid fill of lines that do not add: (Σ dose^q)^(1/q), over the mean that the lines would have if they added.
 * The power q of a Gaussian is a Gaussian of diameter d/√q, so Σ dose^q ripples like a fill whose lines are √q times as far apart.
 * Source: as `rippleExtremes`.
 */
export function solidPeakDose(pitchOverDiameter: number, exponent: number): number {
  const narrowed = pitchOverDiameter * Math.sqrt(exponent);
  const lines = rippleExtremes(narrowed).max / (PEAK_AT_MATCHED_PITCH * narrowed);
  return PEAK_AT_MATCHED_PITCH * pitchOverDiameter * lines ** (1 / exponent);
}

/** `rippleModulation` of lines that do not add: from m of Σ dose^q, the root leaves tanh(artanh(m)/q). Within 1e-4. */
export const solidDoseModulation = (pitchOverDiameter: number, exponent: number): number =>
  exponent === 1
    ? rippleModulation(pitchOverDiameter)
    : Math.tanh(Math.atanh(rippleModulation(pitchOverDiameter * Math.sqrt(exponent))) / exponent);

/**
 * Largest pitch/d that keeps the modulation of a solid fill within c: s = π/√(8 ln(2/c)), first harmonic.
 * Within 0.002 % of the exact root for c up to 0.15, within 0.3 % up to 0.5.
 * Source: first harmonic of `rippleModulation`.
 */
export function largestPitchOverDiameter(modulation: number): number {
  return Math.PI / Math.sqrt(8 * Math.log(2 / modulation));
}
