/**
 * Gaps, overlap and covered area of hard-edged marks. Plane geometry only; dose plays no part.
 * Lengths are mm and positive; "coverage" is a fraction 0..1 of the area.
 */

/** Bare strip in mm between lines of this mark width: max(0, pitch − mark). Source: plane geometry. */
export function gapMm(pitchMm: number, markWidthMm: number): number {
  return Math.max(0, markWidthMm * aboutZero(pitchMm / markWidthMm - 1));
}

/**
 * Linear overlap of neighbouring lines, 1 − pitch/mark; negative if there is a gap. Not an area overlap.
 * Source: plane geometry.
 */
export function lineOverlap(pitchMm: number, markWidthMm: number): number {
  return aboutZero(1 - pitchMm / markWidthMm);
}

/** A pitch from lines per inch equals the same width only within rounding. */
const aboutZero = (share: number): number => (Math.abs(share) < 1e-12 ? 0 : share);

/**
 * Mean number of passes over each point: mark/pitch. With the spot as mark this is the overdrive.
 * Source: plane geometry.
 */
export function meanPasses(pitchMm: number, markWidthMm: number): number {
  return markWidthMm / pitchMm;
}

/** Coverage of parallel lines: min(1, mark/pitch). Source: plane geometry. */
export function lineCoverage(pitchMm: number, markWidthMm: number): number {
  return Math.min(1, markWidthMm / pitchMm);
}

/** Largest pitch in mm at which discs on a square grid leave no gap: diameter/√2. Source: plane geometry. */
export function gapFreeDiscPitchMm(diameterMm: number): number {
  return diameterMm * Math.SQRT1_2;
}

/**
 * Area in mm² common to two discs of equal diameter d with centres s apart:
 * (d²/2)·acos(s/d) − (s/2)·√(d² − s²), 0 when they do not meet.
 * Source: plane geometry.
 */
export function commonDiscAreaMm2(diameterMm: number, centreDistanceMm: number): number {
  if (centreDistanceMm >= diameterMm) return 0;
  const sector = (diameterMm ** 2 / 2) * Math.acos(centreDistanceMm / diameterMm);
  const triangle = (centreDistanceMm / 2) * Math.sqrt(diameterMm ** 2 - centreDistanceMm ** 2);
  return sector - triangle;
}

/**
 * Coverage of discs on a rectangular grid: (πd²/4 − common(d, along) − common(d, across)) / (along·across),
 * and 1 if d reaches the cell's diagonal. Exact for every d: a point is covered if the disc with the nearest centre covers it,
 * and the parts of a disc outside its cell are two pairs of segments, with the areas that `common` gives.
 * Source: plane geometry.
 */
export function discCoverage(diameterMm: number, pitchAlongMm: number, pitchAcrossMm: number): number {
  if (diameterMm >= Math.hypot(pitchAlongMm, pitchAcrossMm)) return 1;
  const reached =
    discAreaMm2(diameterMm) -
    commonDiscAreaMm2(diameterMm, pitchAlongMm) -
    commonDiscAreaMm2(diameterMm, pitchAcrossMm);
  return reached / (pitchAlongMm * pitchAcrossMm);
}

/**
 * Expected coverage when each cell of a square grid is marked with a disc independently with probability a:
 * f1·a + f2·(1 − (1−a)²), where one disc of the full grid covers the area f1 and two discs cover f2.
 * It is the mechanical dot gain of a random tint. NaN for d > √2·pitch, where a third disc overlaps.
 * Source: plane geometry.
 */
export function randomTintCoverage(diameterMm: number, pitchMm: number, burnFraction: number): number {
  const ratio = diameterMm / pitchMm;
  if (ratio > Math.SQRT2) return Number.NaN;
  const twice = 2 * commonDiscAreaMm2(ratio, 1);
  const once = discCoverage(ratio, 1, 1) - twice;
  return once * burnFraction + twice * (1 - (1 - burnFraction) ** 2);
}

/**
 * Area of the mark of one isolated pixel over the area of the pixel. A hard-edged disc that moves by one pitch while it
 * is on draws a stadium of area d·along + πd²/4.
 * Source: plane geometry.
 */
export function isolatedPixelMarkRatio(
  diameterMm: number,
  pitchAlongMm: number,
  pitchAcrossMm: number,
): number {
  const stadiumMm2 = diameterMm * pitchAlongMm + discAreaMm2(diameterMm);
  return stadiumMm2 / (pitchAlongMm * pitchAcrossMm);
}

/**
 * Number of burn fractions that the pixels inside an area can show: 1 + area/pixel area, which is m² + 1 for a cell of
 * m × m pixels. With n power levels each pixel counts n − 1 times. Source: Ulichney, *Digital Halftoning* (1987).
 */
export function addressableLevels(
  areaMm2: number,
  pitchAlongMm: number,
  pitchAcrossMm: number,
  powerLevels = 2,
): number {
  return 1 + ((powerLevels - 1) * areaMm2) / (pitchAlongMm * pitchAcrossMm);
}

/** Area in mm² of a disc. Source: plane geometry. */
export function discAreaMm2(diameterMm: number): number {
  return (Math.PI * diameterMm ** 2) / 4;
}
