import type { Frustum } from "../core/physics/frustum.js";

/**
 * A photo on the unrolled sheet of a cone (`core/physics/frustum.ts`), upright on its middle line. The point (xMm, yMm) of the
 * sheet is at photo pixel (apexXPx + xMm · pxPerMmAlong, apexYPx + yMm · pxPerMmAcross).
 */
export interface PhotoOnSheet {
  readonly frustum: Frustum;
  readonly pxPerMmAlong: number;
  readonly pxPerMmAcross: number;
  readonly apexXPx: number;
  readonly apexYPx: number;
  /** Grid on which the photo is read: the bitmap's grid, divided until it is no coarser than the photo. */
  readonly columns: number;
  readonly rows: number;
}
