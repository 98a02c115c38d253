/*
 * The unrolled surface of a cone without the code's formulas: the cone stands in space, is cut into narrow strips from the apex
 * down, and these are laid side by side on a plane.
 */

export interface Cone {
  readonly top: number;
  readonly bottom: number;
  readonly slant: number;
}

export type Point = readonly [x: number, y: number];

const STRIPS = 3600;

/** Unrolls by strips: place on the plane by turn (0..1) and share of the way down, the middle line upright, the top above. */
export function unroll({ top, bottom, slant }: Cone): (turn: number, down: number) => Point {
  const height = Math.sqrt(slant ** 2 - ((top - bottom) / 2) ** 2);
  // The apex, where the radius has shrunk to nothing; heights count down from the top circle.
  const apexHeight = (-top / (bottom - top)) * height;
  const fromApex = (radius: number, below: number) => Math.hypot(radius, below - apexHeight);
  const [radius, below] = [bottom / 2, height];
  const chord = 2 * radius * Math.sin(Math.PI / STRIPS);
  const stripAngle = 2 * Math.asin(chord / (2 * fromApex(radius, below)));
  const up = bottom > top ? 1 : -1;
  return (turn, down) => {
    const distance = fromApex((top + (bottom - top) * down) / 2, height * down);
    const angle = (turn - 0.5) * STRIPS * stripAngle;
    return [distance * Math.sin(angle), up * distance * Math.cos(angle)];
  };
}
