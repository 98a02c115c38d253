/** What a search needs to know of a machine, a material and an eye, to change a bitmap pixel by pixel. */
export interface SearchModel {
  /** Samples of the dose in each pixel, at the centres of its equal parts. */
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  /** What one pixel at full power burns, on even and on odd lines; the same object if the lines are alike. */
  readonly evenLines: PixelDose;
  readonly oddLines: PixelDose;
  /** Power levels, 2..256: a step is 1/(levels − 1) of full power. */
  readonly levels: number;
  readonly surface: LuminanceTable;
  readonly eye: EyeKernel;
}

/** The dose of one pixel on the pixels around it. */
export interface PixelDose {
  /** Pixels that it reaches to each side along, and across. */
  readonly reachAlong: number;
  readonly reachAcross: number;
  /** [(2 reachAcross + 1) · samplesAcross × (2 reachAlong + 1) · samplesAlong] in units of a solid fill. */
  readonly dose: Float64Array;
}

/** Luminance factor by dose, linear between steps. */
export interface LuminanceTable {
  readonly stepsPerDose: number;
  /** [steps + 2], up to the largest dose that can be. */
  readonly luminance: Float64Array;
}

/**
 * How much of an error at one pixel is seen at another: the eye's filter, correlated with itself. Symmetric in both directions.
 */
export interface EyeKernel {
  readonly columns: number;
  readonly rows: number;
  /** [rows × columns] by distance down and to the right, from 0. */
  readonly seen: Float64Array;
}

/** A dose of the whole piece, and how much its error counts. */
export interface DoseCase {
  readonly dose: number;
  readonly share: number;
}

/** A part of a piece with all around it that matters. Arrays are [rows × columns]. */
export interface SearchTile {
  readonly columns: number;
  readonly rows: number;
  /** Number of its first row in the piece: even and odd lines differ. */
  readonly firstRow: number;
  /** Power levels of the bitmap. Changed in place. */
  readonly codes: Uint8Array;
  /** Where a pixel may change: 1. */
  readonly free: Uint8Array;
  /** Wanted luminance factors, for each dose case. */
  readonly targets: readonly Float64Array[];
  /** L* per luminance factor at what the eye should see there; 0 where nobody judges. */
  readonly slope: Float64Array;
}
