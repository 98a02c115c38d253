/** The whole area of a pixel, in integer units. */
export const AREA_ONE = 1 << 20;

/** Steps of the table of marked area, up to a solid fill's dose. */
export const STEPS_PER_DOSE = 2048;

/**
 * The effect of a burned pixel on the surface, in integers, for a halftone with dose feedback. Dose is tracked at
 * `samplesAlong` × `samplesAcross` samples in each pixel, at the centres of its equal parts.
 */
export interface SurfaceModel {
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  /** A dose step is 2^stepBits integer units of dose. */
  readonly stepBits: number;
  /** Footprint of a pixel on even and on odd lines; the same object if the lines are alike. */
  readonly evenLines: Footprint;
  readonly oddLines: Footprint;
  /** Pixels at the start of a burst that add no dose. The pixel after them has the dose `begins`. */
  readonly lostPx: number;
  /**
   * Marked area of one sample's part of a pixel, by dose step, up to the largest possible dose. The parts of a pixel add up to 0
   * on the bare surface and to about `AREA_ONE` in a solid fill.
   */
  readonly areaByDose: Int32Array;
  /** [FRACTION_ONE + 1] Expected share of burned pixels in a tint, by its marked area; both in units of 1/FRACTION_ONE. */
  readonly expectedShare: Int16Array;
}

/** Dose of one burned pixel at the samples around it. A tint of one dose is expected to have the footprint `dose`. */
export interface Footprint {
  /** Offsets from the pixel's first sample: samples to the right, and lines of samples down. */
  readonly along: Int32Array;
  readonly across: Int32Array;
  /**
   * Dose at each sample, below 2^17, so that a product with a fraction does not overflow. The sum is one pixel's share of a solid
   * fill: STEPS_PER_DOSE · 2^stepBits for each sample of a pixel.
   */
  readonly dose: Int32Array;
  /**
   * Dose at the same samples of a pixel that begins a burst, and `dose` of one that goes on with it, in the order in which a row is
   * decided. Absent if they are the same.
   */
  readonly begins?: Int32Array;
}
