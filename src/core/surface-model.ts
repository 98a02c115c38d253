/** A pixel's whole area as a whole number. */
export const AREA_ONE = 1 << 20;

/** Steps of the table of marked area, up to a solid fill's dose. */
export const STEPS_PER_DOSE = 2048;

/**
 * What a burned pixel does to the surface, in whole numbers, for a halftone that keeps account of it. Dose is followed at
 * samples: `samplesAlong` × `samplesAcross` of them in each pixel, at the centres of its equal parts.
 */
export interface SurfaceModel {
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  /** A dose step is 2^stepBits of the whole numbers that stand for doses. */
  readonly stepBits: number;
  /** What a pixel of an even line leaves, and of an odd one: the same object where lines are alike. */
  readonly evenLines: Footprint;
  readonly oddLines: Footprint;
  /**
   * Marked area of a sample's part of a pixel by dose step, up to the largest dose that pixels can add up to; a pixel of bare
   * surface has 0 in all, one of a solid fill's surface about `AREA_ONE`.
   */
  readonly areaByDose: Int32Array;
  /** [FRACTION_ONE + 1] Share of pixels (in FRACTION_ONE) that a tint is expected to burn, by its marked area (in FRACTION_ONE). */
  readonly expectedShare: Int16Array;
}

/** Dose that one burned pixel leaves at samples around it. */
export interface Footprint {
  /** Samples to the right of the pixel's first, and lines of samples below it. */
  readonly along: Int32Array;
  readonly across: Int32Array;
  /**
   * Dose at each, under 2^17, so that it may be multiplied by a fraction. Together they are one pixel's share of a solid fill:
   * STEPS_PER_DOSE · 2^stepBits for each sample of a pixel.
   */
  readonly dose: Int32Array;
}
