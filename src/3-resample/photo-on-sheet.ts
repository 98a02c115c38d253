import type { Frustum } from "../core/physics/frustum.js";

/**
 * A photo that lies on the unrolled sheet of a cone (`core/frustum.ts`), upright on its middle line. Its place in photo pixels
 * of a point of the sheet is (apexXPx + xMm · pxPerMmAlong, apexYPx + yMm · pxPerMmAcross).
 */
export interface PhotoOnSheet {
  readonly frustum: Frustum;
  readonly pxPerMmAlong: number;
  readonly pxPerMmAcross: number;
  readonly apexXPx: number;
  readonly apexYPx: number;
  /** Grid on which the photo is read: the bitmap's, each pixel divided until it is no coarser than the photo. */
  readonly columns: number;
  readonly rows: number;
}
