import type { WorkKind } from "../../6-report/plan.js";
import { because } from "../../6-report/words/plan-reasons.js";
import type { PlanLens } from "../../options/plan-options.js";
import type { Choice } from "./choice.js";

/** Share of the maximum of useful tones that a quicker lens must keep. */
const ALMOST_AS_GOOD = 0.9;

/**
 * The best lens, each with its own best density: the quickest that meets the limits. For a photo, the quickest of those with
 * almost as many useful tones as the best.
 */
export function chooseLens(lenses: readonly PlanLens[], choices: readonly Choice[], kind: WorkKind): Choice {
  if (choices.length === 1) return choices[0];
  const useful = ({ row }: Choice): number => row.usefulTones ?? 0;
  const meeting = choices.filter(({ meetsLimits }) => meetsLimits);
  const able = meeting.length > 0 ? meeting : choices;
  const max = Math.max(...able.map(useful));
  const good = kind === "photo" ? able.filter((choice) => useful(choice) >= ALMOST_AS_GOOD * max) : able;
  const best = good.reduce((kept, next) => (next.row.seconds < kept.row.seconds ? next : kept));
  const others = choices
    .filter((choice) => choice !== best)
    .map(({ row }) => ({
      ...row,
      name: lenses[row.lens].name,
      ...(kind === "photo" && { useful: row.usefulTones ?? 0 }),
    }));
  const chosen = because("lens-chosen", { kind, name: lenses[best.row.lens].name, others });
  return { ...best, reasons: [chosen, ...best.reasons] };
}
