import type { ReportPlaced } from "../report.js";
import type { UnrolledSheet } from "./unrolled.js";

export type Point = readonly [xMm: number, yMm: number];

/** The unrolled surface of a round piece, and the picture on it. */
export interface Surface {
  /** A point by its angle from the mark, in degrees, and its distance from the rim. */
  readonly at: (angleDeg: number, downMm: number) => Point;
  /** SVG of the page's picture with its middle at this angle. */
  readonly picture: (angleDeg: number) => string;
  /** True for a cone that is wider at its foot. Unrolled, its rim is the inner arc. */
  readonly widens: boolean;
}

export function cylinderSurface(roundMm: number, { turnDeg, fromRim }: ReportPlaced): Surface {
  const topMm = fromRim?.bitmapMm ?? 0;
  const alongMm = (angleDeg: number): number => (angleDeg / 360) * roundMm;
  return {
    at: (angleDeg, downMm) => [alongMm(angleDeg), downMm],
    picture: (angleDeg) =>
      `<use href="#picture-predicted" transform="translate(${mm(alongMm(angleDeg - turnDeg / 2))} ${mm(topMm)})"/>`,
    widens: false,
  };
}

/** The origin is the apex of the cone. It lies above a surface that widens, otherwise below. */
export function coneSurface({ cone, box }: UnrolledSheet, { fromRim }: ReportPlaced): Surface {
  const widens = cone.bottomMm > cone.topMm;
  const upright = widens ? 1 : -1;
  const topRadiusMm = widens ? cone.innerRadiusMm : cone.outerRadiusMm;
  const topMm = fromRim?.bitmapMm ?? 0;
  const directionRad = (angleDeg: number): number => (angleDeg / 360 - 0.5) * cone.sectorAngleRad;
  return {
    at(angleDeg, downMm) {
      const radiusMm = Math.max(0, topRadiusMm + upright * (downMm - topMm));
      const direction = directionRad(angleDeg);
      return [radiusMm * Math.sin(direction), upright * radiusMm * Math.cos(direction)];
    },
    picture(angleDeg) {
      // SVG turns clockwise, which moves to the left what lies below the apex.
      const turnDeg = (-upright * directionRad(angleDeg) * 180) / Math.PI;
      return `<use href="#picture-unrolled" transform="rotate(${mm(turnDeg)}) translate(${mm(box.leftMm)} ${mm(box.topMm)})"/>`;
    },
    widens,
  };
}

/** A number in SVG. */
export const mm = (value: number): string => String(Number(value.toFixed(3)));
