import type { HalftoneUse } from "../../4-halftone/method.js";
import { isCone } from "../../core/wrap.js";
import type { IdleOption, Need } from "../../options/option.js";
import type { ResolvedOptions } from "../../options/options.js";

/**
 * The options among these that have no effect on a piece.
 *
 * @param uses of its halftone
 * @param more needs that the piece itself does not decide
 */
export function idleOptions(
  given: readonly IdleOption[],
  options: ResolvedOptions,
  uses: readonly HalftoneUse[],
  more: Partial<Record<Need, boolean>> = {},
): readonly IdleOption[] {
  const met = { ...needsMet(options, uses), ...more };
  return given.filter(({ need }) => met[need] === false);
}

function needsMet(options: ResolvedOptions, uses: readonly HalftoneUse[]): Partial<Record<Need, boolean>> {
  const { wrap, widthMm, heightMm, fit, kind, autoTone, oneWay, outOfFocus } = options;
  const bothSizes = widthMm !== undefined && heightMm !== undefined;
  return {
    scan: uses.includes("scan"),
    seed: uses.includes("seed"),
    clumping: uses.includes("clumping"),
    screen: uses.includes("screen"),
    search: options.method === "burn-search",
    cone: wrap !== undefined && isCone(wrap),
    "both-sizes": bothSizes,
    "cut-to-fit": bothSizes && fit === "cover",
    tones: kind !== "solid",
    "automatic-levels": kind !== "solid" && autoTone,
    "two-way": !oneWay,
    defocus: outOfFocus !== undefined,
  };
}
