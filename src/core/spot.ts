import type { Pitch } from "./plane.js";
import { sigmaMmFromSpotDiameterMm } from "./units.js";

/** The focused spot: 1/e² irradiance diameters of a Gaussian (ISO 11146-1 vocabulary), along and across the scan lines. */
export interface Spot {
  readonly alongMm: number;
  readonly acrossMm: number;
}

/** Motion and switching of the beam that affect the dose. */
export interface BeamMotion {
  readonly speedMmPerS: number;
  /** Time constant of the first-order lag of the source, in microseconds; 0 for none. */
  readonly firingLagUs: number;
  /**
   * Time by which the source starts later than it stops, in microseconds; 0 for none. Every burst, a run of pixels at any power, is
   * shorter by that time at its start. Negative if the source stops later: every burst is longer at its end.
   */
  readonly firingLossUs: number;
  /** Shift of odd lines along the line in two-way travel, in mm; 0 for none. */
  readonly lineShiftMm: number;
  /** True if every line is burned in the same direction. */
  readonly oneWay: boolean;
}

/** Travel of the beam in one time constant of the source, in mm. */
export const lagLengthMm = (motion: BeamMotion): number => motion.speedMmPerS * motion.firingLagUs * 1e-6;

/** Travel of the beam in the time that the source starts later than it stops, in mm; negative if it stops later. */
export const lossLengthMm = (motion: BeamMotion): number => motion.speedMmPerS * motion.firingLossUs * 1e-6;

/** Whether a line leaves the same dose on the way out and on the way back. */
export const linesAlike = ({ oneWay, lineShiftMm, firingLagUs, firingLossUs }: BeamMotion): boolean =>
  oneWay || (lineShiftMm === 0 && firingLagUs === 0 && firingLossUs === 0);

/** Standard deviation of the spot, in pixels along and across. */
export const spotSigmaPx = (spot: Spot, pitch: Pitch): readonly [along: number, across: number] => [
  sigmaMmFromSpotDiameterMm(spot.alongMm) / pitch.alongMm,
  sigmaMmFromSpotDiameterMm(spot.acrossMm) / pitch.acrossMm,
];

/** Spot diameter over pitch, the mean of along and across: 1 where spots just touch. */
export const overdriveOf = (pitch: Pitch, spot: Spot): number =>
  Math.sqrt((spot.alongMm * spot.acrossMm) / (pitch.alongMm * pitch.acrossMm));

/** A spot that runs along the lines of a grid. */
export interface BeamPath {
  readonly pitch: Pitch;
  readonly spot: Spot;
  readonly motion: BeamMotion;
}

/** The grid that a picture is engraved on. */
export interface EngravingGrid {
  readonly columns: number;
  readonly rows: number;
  readonly pitch: Pitch;
  readonly spot: Spot;
  /** True if the last and the first pixel of a row are neighbours. */
  readonly closed?: boolean;
}
