/**
 * Every unit conversion of the library. Other files use millimetres, seconds, watts and joules and
 * convert at the boundary. Each name states both units. Arguments are finite and positive.
 */

/** Millimetres per inch, exact by the definition of the inch (international yard and pound agreement, 1959). */
export const MM_PER_INCH = 25.4;

const MM_PER_CM = 10;
const MM_PER_METRE = 1000;

/** Length in mm of a length in inches. */
export function mmFromInches(inches: number): number {
  return inches * MM_PER_INCH;
}

/** Length in mm of a length in centimetres. */
export function mmFromCm(cm: number): number {
  return cm * MM_PER_CM;
}

/** Length in mm of a length in micrometres. */
export function mmFromMicrometres(micrometres: number): number {
  return micrometres / 1000;
}

/** Length in mm of a length in nanometres. */
export function mmFromNanometres(nanometres: number): number {
  return nanometres / 1e6;
}

/** Length in inches of a length in mm. */
export function inchesFromMm(mm: number): number {
  return mm / MM_PER_INCH;
}

/** Lengths in mm, and times in seconds, of the units that speeds and accelerations are given in. */
const LENGTHS_MM = { mm: 1, cm: MM_PER_CM, m: MM_PER_METRE, in: MM_PER_INCH } as const;
const TIMES_S = { s: 1, min: 60 } as const;

type LengthName = keyof typeof LENGTHS_MM;
/** `mm/s`, `mm/min`, `in/s` and so on. */
export type SpeedUnit = "mm/s" | "cm/s" | "m/s" | "in/s" | "mm/min" | "cm/min" | "m/min" | "in/min";
/** `mm/s²`, `in/s²` and so on. */
export type AccelerationUnit = "mm/s²" | "cm/s²" | "m/s²" | "in/s²";

/** One of this unit in mm/s, as a fraction, so that 6000 mm/min are exactly 100 mm/s. */
function speedOf(unit: SpeedUnit): { readonly mm: number; readonly s: number } {
  const [length, time] = unit.split("/") as [LengthName, keyof typeof TIMES_S];
  return { mm: LENGTHS_MM[length], s: TIMES_S[time] };
}

/** Speed in mm/s of a speed in another unit. */
export function mmPerSFrom(speed: number, unit: SpeedUnit): number {
  const { mm, s } = speedOf(unit);
  return (speed * mm) / s;
}

/** The same backwards. */
export function speedFromMmPerS(mmPerS: number, unit: SpeedUnit): number {
  const { mm, s } = speedOf(unit);
  return (mmPerS * s) / mm;
}

const lengthNameOf = (unit: AccelerationUnit): LengthName => unit.split("/")[0] as LengthName;

/** Acceleration in mm/s² of an acceleration in another unit. */
export function mmPerS2From(acceleration: number, unit: AccelerationUnit): number {
  return acceleration * LENGTHS_MM[lengthNameOf(unit)];
}

/** The same backwards. */
export function accelerationFromMmPerS2(mmPerS2: number, unit: AccelerationUnit): number {
  return mmPerS2 / LENGTHS_MM[lengthNameOf(unit)];
}

/** Line density in lines per inch of a pitch in mm: 25.4 / pitch. */
export function linesPerInchFromPitchMm(pitchMm: number): number {
  return MM_PER_INCH / pitchMm;
}

/** Pitch in mm of a line density in lines per inch: 25.4 / density. */
export function pitchMmFromLinesPerInch(linesPerInch: number): number {
  return MM_PER_INCH / linesPerInch;
}

/** Line density in lines per mm of a pitch in mm: 1 / pitch. */
export function linesPerMmFromPitchMm(pitchMm: number): number {
  return 1 / pitchMm;
}

/** Pitch in mm of a line density in lines per mm: 1 / density. */
export function pitchMmFromLinesPerMm(linesPerMm: number): number {
  return 1 / linesPerMm;
}

/**
 * Whole pixels per metre of a pitch in mm, rounded to nearest, as files store it
 * (PNG `pHYs` with unit 1: W3C PNG, ISO/IEC 15948; BMP pixels-per-metre fields).
 */
export function pixelsPerMetreFromPitchMm(pitchMm: number): number {
  return Math.round(MM_PER_METRE / pitchMm);
}

/** Pitch in mm of a density in pixels per metre (PNG, BMP). */
export function pitchMmFromPixelsPerMetre(pixelsPerMetre: number): number {
  return MM_PER_METRE / pixelsPerMetre;
}

/** Pitch in mm of a density in pixels per centimetre (TIFF 6.0 ResolutionUnit 3, JFIF 1.02 units 2). */
export function pitchMmFromPixelsPerCm(pixelsPerCm: number): number {
  return MM_PER_CM / pixelsPerCm;
}

/** Number of pitches in a length, not rounded: length / pitch. */
export function pitchCountFromLengthMm(lengthMm: number, pitchMm: number): number {
  return lengthMm / pitchMm;
}

/** Length in mm of a number of pixels or lines: count · pitch. */
export function lengthMmFromPitchCount(count: number, pitchMm: number): number {
  return count * pitchMm;
}

/**
 * 1/e² diameter in mm of a Gaussian spot given by its full width at half maximum: d = FWHM·√(2/ln 2),
 * 1.699 FWHM. From exp(−8 r²/d²) = 1/2 at r = FWHM/2. Not valid for a spot that is not Gaussian.
 */
export function spotDiameterMmFromFwhmMm(fwhmMm: number): number {
  return fwhmMm * Math.sqrt(2 / Math.LN2);
}

/**
 * Full width at half maximum in mm of a Gaussian spot of 1/e² diameter d: FWHM = d·√(ln 2 / 2).
 * From exp(−8 r²/d²) = 1/2 at r = FWHM/2.
 */
export function fwhmMmFromSpotDiameterMm(spotDiameterMm: number): number {
  return spotDiameterMm * Math.sqrt(Math.LN2 / 2);
}

/** Standard deviation in mm of a Gaussian spot of 1/e² diameter d: σ = d/4, so that d = D4σ (ISO 11146-1). */
export function sigmaMmFromSpotDiameterMm(spotDiameterMm: number): number {
  return spotDiameterMm / 4;
}

/** 1/e diameter in mm of a Gaussian spot of 1/e² diameter d: d/√2, from exp(−8 r²/d²) = 1/e. */
export function oneOverEDiameterMmFromSpotDiameterMm(spotDiameterMm: number): number {
  return spotDiameterMm * Math.SQRT1_2;
}

/** Areal dose in J/cm², the unit of the published material studies, of a dose in J/mm². */
export function joulesPerCm2FromJoulesPerMm2(joulesPerMm2: number): number {
  return joulesPerMm2 * (MM_PER_CM * MM_PER_CM);
}

/** Microseconds of a time in seconds. */
export function microsecondsFromSeconds(seconds: number): number {
  return seconds * 1e6;
}

/** Seconds of a time in microseconds. */
export function secondsFromMicroseconds(microseconds: number): number {
  return microseconds * 1e-6;
}

/** Radians of an angle in degrees. */
export function radiansFromDegrees(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

/** Radians of an angle in minutes of arc. */
export function radiansFromArcminutes(arcminutes: number): number {
  return radiansFromDegrees(arcminutes / 60);
}

/** Minutes of arc of an angle in radians. */
export function arcminutesFromRadians(radians: number): number {
  return (radians * 180 * 60) / Math.PI;
}
