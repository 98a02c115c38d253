import { type Interpolant, monotoneCubic } from "../monotone-cubic.js";
import { lightnessFromLuminance } from "../physics/lightness.js";

/** A response by its points: rising doses, monotone luminance factors 0..1. Solid fill = dose 1. */
export type ResponsePoints = readonly (readonly [dose: number, luminanceFactor: number])[];

/**
 * R(dose), tabulated for speed: equal steps from dose 0 to the last point, linear in between. The number of steps keeps it
 * within 5e-7 of the monotone cubic.
 */
export interface Response {
  /** The points that the curve goes through. */
  readonly points: ResponsePoints;
  /** Luminance factor of the bare surface, R(0). */
  readonly bare: number;
  /** Luminance factor at the last point and beyond. */
  readonly saturated: number;
  /** True if burning darkens the surface (wood), false if it lightens it (slate). */
  readonly darkens: boolean;
  /** [steps + 1] luminance factors. */
  readonly table: Float32Array;
  readonly steps: number;
  /** Table steps per unit of dose. */
  readonly stepsPerDose: number;
}

/** Largest allowed distance between the table and the curve. */
const DEPARTURE = 5e-7;

/** From a table that fits a small cache to half a megabyte, for responses with a sharp corner. */
const MIN_STEPS = 2048;
const MAX_STEPS = 131072;

/** @param points doses rising, luminance factors monotone; below the first dose the surface does not change */
export function createResponse(points: ResponsePoints): Response {
  const curve = monotoneCubic(
    points.map(([dose]) => dose),
    points.map(([, luminance]) => luminance),
  );
  const lastDose = Math.max(points[points.length - 1][0], 1e-6);
  const steps = stepsFor(curve, lastDose);
  const table = Float32Array.from({ length: steps + 1 }, (_, i) => curve((i / steps) * lastDose));
  const bare = curve(0);
  const saturated = curve(lastDose);
  const darkens = saturated <= bare;
  return { points, bare, saturated, darkens, table, steps, stepsPerDose: steps / lastDose };
}

/**
 * Doubles the steps until the table is near enough to the curve. The error is measured in the middle of steps, where it is largest.
 */
function stepsFor(curve: Interpolant, lastDose: number): number {
  let steps = MIN_STEPS;
  while (steps < MAX_STEPS && departure(curve, lastDose, steps) > DEPARTURE) steps *= 2;
  return steps;
}

function departure(curve: Interpolant, lastDose: number, steps: number): number {
  let worst = 0;
  let left = curve(0);
  for (let i = 0; i < steps; i++) {
    const right = curve(((i + 1) / steps) * lastDose);
    const middle = curve(((i + 0.5) / steps) * lastDose);
    worst = Math.max(worst, Math.abs((left + right) / 2 - middle));
    left = right;
  }
  return worst;
}

/** Parts of the table between which slopes are taken. Finer parts would follow the steps of the table, not the curve. */
const SLOPE_PARTS = 1024;

/** The greatest change of L* per unit of dose: about 100 on wood, 200 to 400 where a coating is stripped. */
export function greatestLightnessSlope({ table, steps, stepsPerDose }: Response): number {
  const stride = Math.max(1, Math.floor(steps / SLOPE_PARTS));
  let greatest = 0;
  let before = lightnessFromLuminance(table[0]);
  for (let i = stride; i <= steps; i += stride) {
    const lightness = lightnessFromLuminance(table[i]);
    greatest = Math.max(greatest, Math.abs(lightness - before));
    before = lightness;
  }
  return (greatest * stepsPerDose) / stride;
}

/** Luminance factor after `dose` (0 or more). */
export function luminanceFactorAt({ table, steps, stepsPerDose, saturated }: Response, dose: number): number {
  const at = dose * stepsPerDose;
  if (at >= steps) return saturated;
  const step = Math.floor(at);
  return table[step] + (table[step + 1] - table[step]) * (at - step);
}

/** Mean luminance factor of places with these doses. */
export const meanLuminanceFactor = (response: Response, doses: Float64Array): number =>
  doses.reduce((sum, dose) => sum + luminanceFactorAt(response, dose), 0) / doses.length;
