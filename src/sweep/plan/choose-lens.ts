import type { WorkKind } from "../../6-report/plan.js";
import { because } from "../../6-report/words/plan-reasons.js";
import type { PlanLens } from "../../options/plan-options.js";
import type { Choice } from "./choice.js";
import { tonesAt } from "./held-tones.js";

/** Share of the maximum of held tones that a quicker lens must keep. */
const ALMOST_AS_GOOD = 0.9;

/**
 * The best lens, each with its own best density: the quickest that meets the limits. For a photo, the quickest of those that hold
 * almost as many tones as the best.
 */
export function chooseLens(
  lenses: readonly PlanLens[],
  choices: readonly Choice[],
  kind: WorkKind,
  detailMm: number,
): Choice {
  if (choices.length === 1) return choices[0];
  const held = ({ row }: Choice): number => tonesAt(row, detailMm).held;
  const meeting = choices.filter(({ meetsLimits }) => meetsLimits);
  const able = meeting.length > 0 ? meeting : choices;
  const maxHeld = Math.max(...able.map(held));
  const good = kind === "photo" ? able.filter((choice) => held(choice) >= ALMOST_AS_GOOD * maxHeld) : able;
  const best = good.reduce((kept, next) => (next.row.seconds < kept.row.seconds ? next : kept));
  const others = choices
    .filter((choice) => choice !== best)
    .map(({ row }) => ({
      ...row,
      name: lenses[row.lens].name,
      ...(kind === "photo" && { held: tonesAt(row, detailMm).held }),
    }));
  const chosen = because("lens-chosen", { kind, name: lenses[best.row.lens].name, others });
  return { ...best, reasons: [chosen, ...best.reasons] };
}
