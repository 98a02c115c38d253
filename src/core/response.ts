import { monotoneCubic } from "./monotone-cubic.js";

/** A material's response as measured: rising doses, monotone luminance factors 0..1. Solid fill = dose 1. */
export type ResponsePoints = readonly (readonly [dose: number, luminanceFactor: number])[];

/**
 * R(dose) of section 3, tabulated for speed: equal steps from dose 0 to the last point, linear in between. With 8192 steps
 * the table departs from the monotone cubic by less than 1e-6 for any curve that rises over more than 1 % of the range.
 */
export interface Response {
  /** Luminance factor of the bare surface, R(0). */
  readonly bare: number;
  /** Luminance factor at the last point and beyond. */
  readonly saturated: number;
  /** True where burning darkens (wood); false where it lightens (slate). */
  readonly darkens: boolean;
  readonly table: Float32Array;
  /** Table steps per unit of dose. */
  readonly stepsPerDose: number;
}

/** Table steps for each unit of dose, and for a table that ends below 1; and the most steps in all (a megabyte). */
const STEPS_PER_DOSE = 8192;
const MOST_STEPS = 262144;

/** @param points doses rising, luminance factors monotone; a first dose above 0 means "no change below it" */
export function createResponse(points: ResponsePoints): Response {
  const curve = monotoneCubic(
    points.map(([dose]) => dose),
    points.map(([, luminance]) => luminance),
  );
  const lastDose = Math.max(points[points.length - 1][0], 1e-6);
  const steps = Math.min(MOST_STEPS, Math.ceil(STEPS_PER_DOSE * Math.max(1, lastDose)));
  const table = new Float32Array(steps + 2);
  for (let i = 0; i < table.length; i++) table[i] = curve((i / steps) * lastDose);
  const bare = curve(0);
  const saturated = curve(lastDose);
  return { bare, saturated, darkens: saturated <= bare, table, stepsPerDose: steps / lastDose };
}

/** Luminance factor after `dose` (0 or more). */
export function luminanceFactorAt(response: Response, dose: number): number {
  const { table, stepsPerDose } = response;
  const at = Math.min(dose * stepsPerDose, table.length - 2);
  const step = at | 0;
  return table[step] + (table[step + 1] - table[step]) * (at - step);
}
