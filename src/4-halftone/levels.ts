import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { SpotpitchError } from "../core/errors.js";
import { levelPowers } from "../core/power-levels.js";
import { refusal } from "../core/refusals/refusals.js";
import type { HalftoneMethod } from "./method.js";

/*
 * Halftones with more than two power levels: each pixel takes one of the two levels around its wanted value, and two levels are
 * mixed like bare and burned. Rows have one byte per pixel, its level.
 */

/** Burn fractions of the levels, as integer codes. */
export const levelCodes = (levels: number): Int16Array =>
  Int16Array.from(levelPowers(levels), (power) => Math.round(FRACTION_ONE * power));

/**
 * The level nearest to a fraction, or the upper of two equally near. Errors may move the fraction outside 0..1.
 *
 * @param noise raises the threshold between two levels, in 16384ths of a step
 */
export function nearestLevel(wanted: number, steps: number, noise = 0): number {
  const level = (wanted * steps + FRACTION_ONE / 2 - noise) >> 14;
  return level < 0 ? 0 : Math.min(level, steps);
}

/** The refusal (`OPTION_METHOD_LEVELS`) of more than two levels by a method that supports only on and off. */
export function levelsMisfit(
  method: HalftoneMethod,
  levels: number,
  methods?: readonly HalftoneMethod[],
): SpotpitchError | undefined {
  if (levels === 2 || method.takesLevels) return undefined;
  const able = methods?.filter(({ takesLevels }) => takesLevels).map(({ id }) => id);
  const allowed = able ? `auto, ${able.join(", ")}` : "a method that takes levels";
  return refusal(
    "method-levels",
    { method: method.id, levels, able: allowed },
    { received: method.id, allowed },
  );
}
