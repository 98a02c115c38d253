/** What a search needs to know of a machine, a material and an eye, to change a bitmap pixel by pixel. */
export interface SearchModel {
  /** Samples of the dose in each pixel, at the centres of its equal parts. */
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  /** What a pixel at full power burns along its line, on even and on odd lines. The same object if the lines are alike. */
  readonly evenLines: LineMark;
  readonly oddLines: LineMark;
  /** The same across the lines. */
  readonly across: MarkProfile;
  /** Power levels, 2..256: a step is 1/(levels − 1) of full power. */
  readonly levels: number;
  /** Steps of `surface` per unit of dose, and their number. A dose beyond the last step counts as the last. */
  readonly stepsPerDose: number;
  readonly steps: number;
  /** [cases] of [steps + 1] luminance factors by nominal dose, linear between steps: one table for each dose of the piece. */
  readonly surface: readonly Float64Array[];
  /**
   * [cases × cases] How the errors of two cases count together; symmetric. What is lowered is
   *
   *     J = Σ_jk coupling[j, k] · Σ_pq w(p) e_j(p) eye(p − q) w(q) e_k(q),
   *
   * with e the error of the luminance factor in a case and w the weight of a pixel.
   */
  readonly coupling: Float64Array;
  readonly eye: EyeKernel;
}

/** The dose of one pixel in one direction, in units of a solid fill. */
export interface MarkProfile {
  /** Pixels that it reaches towards the first pixel, and towards the last. */
  readonly before: number;
  readonly after: number;
  /** [(before + 1 + after) × samples], from its first pixel on. */
  readonly dose: Float64Array;
}

/** The marks of a line. */
export interface LineMark extends MarkProfile {
  /** What happens to each burst, a run of pixels at any power. Absent if the source starts as late as it stops. */
  readonly bursts?: BurstMark;
}

/** Bursts of a source that starts later than it stops, or stops later than it starts. */
export interface BurstMark {
  /** 1 if the beam travels to the right, −1 to the left. */
  readonly direction: 1 | -1;
  /** Whether bursts are shorter at their start. Otherwise they are longer at their end. */
  readonly shortens: boolean;
  /** Whole pixels that a burst loses or gains. The pixel after them burns in part. */
  readonly wholePx: number;
  /** The mark of the pixel that burns in part: same reach. */
  readonly part: Float64Array;
}

/** How much of an error at one pixel is seen at another: the eye's filter, correlated with itself. */
export interface EyeKernel {
  /** Pixels to each side at which it still counts, along and across. */
  readonly reachAlong: number;
  readonly reachAcross: number;
  /** [(reachAcross + 1) × (reachAlong + 1)] by distance down and to the right, from 0. */
  readonly seen: Float64Array;
  /** The same, its change for a step of the error to the right and down. */
  readonly seenRight: Float64Array;
  readonly seenDown: Float64Array;
}

/** A pixel stays as it is, changes places with a neighbour, or does both. */
export const STAYS = 0;
export const SWAPS = 1;
export const MOVES = 2;

/** A part of a piece with all around it that a change reaches. Planes are [rows × columns]. */
export interface SearchTile {
  readonly columns: number;
  readonly rows: number;
  /** Number of its first row in the piece: even and odd lines differ. */
  readonly firstRow: number;
  /** Power levels of the bitmap, changed in place. Only a pixel that two marks do not reach past the tile may change. */
  readonly codes: Uint8Array;
  /** `STAYS`, `SWAPS` or `MOVES`. */
  readonly moves: Uint8Array;
  /** L* per luminance factor, at what the eye should see there. */
  readonly weight: Float64Array;
  /** [cases] ½ ∂J/∂(luminance factor) before the search. Kept up to date in place. */
  readonly pull: readonly Float64Array[];
}
