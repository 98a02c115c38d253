import type { Frustum } from "../core/physics/frustum.js";
import type { Pitch } from "../core/plane.js";
import { middleDiameterMm } from "../core/wrap.js";
import type { SourceWindow } from "./source-window.js";

/**
 * A photo on the unrolled sheet of a cone (`core/physics/frustum.ts`), upright on its middle line. The point (xMm, yMm) of the
 * sheet is at photo pixel (apexXPx + xMm · pxPerMmAlong, apexYPx + yMm · pxPerMmAcross).
 */
export interface PhotoOnSheet {
  /** Of the circles of the bitmap. */
  readonly frustum: Frustum;
  /** Angle of the bitmap's columns together: the whole sheet, or the part that a placed picture needs. */
  readonly angleRad: number;
  readonly pxPerMmAlong: number;
  readonly pxPerMmAcross: number;
  readonly apexXPx: number;
  readonly apexYPx: number;
  /** Part of the photo that may be read, in its pixels. Beside it the surface stays bare. */
  readonly window: SourceWindow;
  /** The rectangle of a placed picture on the sheet, upright on its middle line; its top counts down from the apex. */
  readonly picture?: { readonly topMm: number; readonly widthMm: number; readonly heightMm: number };
  /** Grid on which the photo is read: the bitmap's grid, divided until it is no coarser than the photo. */
  readonly columns: number;
  readonly rows: number;
}

/** The bitmap's grid, divided until it is no coarser than a photo of `pxPerMm` pixels per mm. */
export function gridOfSheet(
  { columns, rows }: Pick<PhotoOnSheet, "columns" | "rows">,
  cone: Frustum,
  pxPerMm: number,
  pitch: Pitch,
): Pick<PhotoOnSheet, "columns" | "rows"> {
  const widest = Math.max(cone.topMm, cone.bottomMm) / middleDiameterMm(cone);
  const parts = (pitchMm: number) => Math.max(1, Math.ceil(pxPerMm * pitchMm - 1e-9));
  return { columns: columns * parts(pitch.alongMm * widest), rows: rows * parts(pitch.acrossMm) };
}

/** Directions from the apex of the columns of a grid of the sheet: a point at distance r lies at (r · toRight, r · down). */
export interface SheetRays {
  readonly toRight: Float64Array;
  readonly down: Float64Array;
}

export function raysOfSheet({ frustum, angleRad }: PhotoOnSheet, columns: number): SheetRays {
  const upright = frustum.bottomMm > frustum.topMm ? 1 : -1;
  const [toRight, down] = [new Float64Array(columns), new Float64Array(columns)];
  for (let i = 0; i < columns; i++) {
    const angle = angleRad * ((i + 0.5) / columns - 0.5);
    toRight[i] = Math.sin(angle);
    down[i] = upright * Math.cos(angle);
  }
  return { toRight, down };
}

/** Distance from the apex of row j of a grid of the sheet. */
export function radiusOfRowMm({ frustum }: PhotoOnSheet, j: number, rows: number): number {
  const { topMm, bottomMm, innerRadiusMm, slantMm } = frustum;
  const share = (j + 0.5) / rows;
  return innerRadiusMm + slantMm * (bottomMm > topMm ? share : 1 - share);
}
