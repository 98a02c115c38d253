/**
 * Frustum of a right circular cone, and the flat sheet that rolls up to it: a sector of a ring.
 *
 *     ___________           With s along the slope and radii R₁, R₂ of the two circles (R₁ < R₂):
 *     \         /  R₂       half angle     sin θ = (R₂ − R₁) / s
 *    s \       /            inner radius   r₁ = R₁ / sin θ = s R₁ / (R₂ − R₁),   outer   r₂ = r₁ + s
 *       \_____/    R₁       sector angle   φ = 2π sin θ,   so that r φ = 2π R on every circle
 *
 * Elementary geometry of the cone: rolling keeps lengths, so each circle is as long as its arc.
 */
export interface Frustum {
  readonly topMm: number;
  readonly bottomMm: number;
  /** Along the slope. */
  readonly slantMm: number;
  /** Along the axis: √(s² − (R₂ − R₁)²). */
  readonly axialMm: number;
  /** Between slope and axis, 0..π/2. */
  readonly halfAngleRad: number;
  /** Of the unrolled sheet. */
  readonly innerRadiusMm: number;
  readonly outerRadiusMm: number;
  readonly sectorAngleRad: number;
}

/** @param slantMm more than half the difference of the diameters, which must differ */
export function frustum(topMm: number, bottomMm: number, slantMm: number): Frustum {
  const risesMm = Math.abs(topMm - bottomMm) / 2;
  const sine = risesMm / slantMm;
  const innerRadiusMm = Math.min(topMm, bottomMm) / 2 / sine;
  return {
    topMm,
    bottomMm,
    slantMm,
    axialMm: Math.sqrt(slantMm * slantMm - risesMm * risesMm),
    halfAngleRad: Math.asin(sine),
    innerRadiusMm,
    outerRadiusMm: innerRadiusMm + slantMm,
    sectorAngleRad: 2 * Math.PI * sine,
  };
}

/** A point of the unrolled sheet: x to the right of its middle line, y downwards from the apex of the cone. */
export interface SheetPoint {
  readonly xMm: number;
  readonly yMm: number;
}

/**
 * The place of a point of the cone on the unrolled sheet, whose middle line is upright.
 *
 * @param turn 0..1 over `angleRad`, ½ on the middle line
 * @param down 0..1 from the top circle to the bottom circle
 * @param angleRad a part of the sheet on both sides of the middle line; default: all of it
 */
export function onSheet(
  { topMm, bottomMm, innerRadiusMm, slantMm, sectorAngleRad }: Frustum,
  turn: number,
  down: number,
  angleRad = sectorAngleRad,
): SheetPoint {
  const widens = bottomMm > topMm;
  const radiusMm = innerRadiusMm + slantMm * (widens ? down : 1 - down);
  const angle = angleRad * (turn - 0.5);
  const yMm = radiusMm * Math.cos(angle);
  return { xMm: radiusMm * Math.sin(angle), yMm: widens ? yMm : -yMm };
}

/** The rectangle round the unrolled sheet, or a part of it. */
export interface SheetBox {
  readonly leftMm: number;
  readonly rightMm: number;
  readonly topMm: number;
  readonly bottomMm: number;
}

export function sheetBox(
  { topMm, bottomMm, innerRadiusMm, outerRadiusMm, sectorAngleRad }: Frustum,
  angleRad = sectorAngleRad,
): SheetBox {
  const half = angleRad / 2;
  const cosine = Math.cos(half);
  const halfWidthMm = outerRadiusMm * Math.sin(Math.min(half, Math.PI / 2));
  const nearMm = (cosine > 0 ? innerRadiusMm : outerRadiusMm) * cosine;
  const sides = { leftMm: -halfWidthMm, rightMm: halfWidthMm };
  return bottomMm > topMm
    ? { ...sides, topMm: nearMm, bottomMm: outerRadiusMm }
    : { ...sides, topMm: -outerRadiusMm, bottomMm: -nearMm };
}

/** Area of the sheet, and of the cone's surface: π (R₁ + R₂) s. */
export const sheetAreaMm2 = ({ topMm, bottomMm, slantMm }: Frustum): number =>
  (Math.PI * (topMm + bottomMm) * slantMm) / 2;
