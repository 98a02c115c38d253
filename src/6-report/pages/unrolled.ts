import { type Frustum, frustum, type SheetBox, sheetBox } from "../../core/physics/frustum.js";
import type { ReportAround } from "../report.js";

/** The unrolled surface of a cone, as far as its bitmap covers it, upright on its middle line. */
export interface UnrolledSheet {
  readonly cone: Frustum;
  readonly angleRad: number;
  readonly box: SheetBox;
}

/** Undefined on a cylinder, whose unrolled surface is a rectangle. */
export function unrolledSheet(around: ReportAround | undefined): UnrolledSheet | undefined {
  if (!around?.cone) return undefined;
  const { topDiameterMm, bottomDiameterMm, cone: told, placed } = around;
  const cone = frustum(topDiameterMm, bottomDiameterMm, told.slantHeightMm);
  const angleRad = cone.sectorAngleRad * (placed ? placed.turnDeg / 360 : 1);
  return { cone, angleRad, box: sheetBox(cone, angleRad) };
}

export const boxSize = ({ leftMm, rightMm, topMm, bottomMm }: SheetBox) => ({
  widthMm: rightMm - leftMm,
  heightMm: bottomMm - topMm,
});

/** The outline of a sheet as the data of an SVG path. The unit is mm, and the origin is the apex of the cone. */
export function sheetPath(cone: Frustum, angleRad: number): string {
  const { innerRadiusMm, outerRadiusMm } = cone;
  const upright = cone.bottomMm > cone.topMm ? 1 : -1;
  const at = (radiusMm: number, side: number): string =>
    [side * radiusMm * Math.sin(angleRad / 2), upright * radiusMm * Math.cos(angleRad / 2)]
      .map((mm) => mm.toFixed(3))
      .join(" ");
  const large = angleRad > Math.PI ? 1 : 0;
  const arc = (radiusMm: number, sweep: number, side: number): string =>
    `A${radiusMm.toFixed(3)} ${radiusMm.toFixed(3)} 0 ${large} ${sweep} ${at(radiusMm, side)}`;
  // From left to right below the apex an arc turns against the clock, which is sweep 0.
  const there = upright === 1 ? 0 : 1;
  return `M${at(innerRadiusMm, -1)}${arc(innerRadiusMm, there, 1)}L${at(outerRadiusMm, 1)}${arc(outerRadiusMm, 1 - there, -1)}Z`;
}
