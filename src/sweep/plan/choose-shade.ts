import type { PlanRow, ShadeSetting } from "../../6-report/plan.js";
import { type Change, changedBy } from "../../6-report/words/plan-changes.js";
import { because, type Reason } from "../../6-report/words/plan-reasons.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { referencePitchMm } from "../../pipeline/describe/density-facts.js";
import { type Candidates, type Choice, minBy, withinTime } from "./choice.js";

type Shaded = PlanRow & { readonly shade: ShadeSetting };

const isShaded = (row: PlanRow): row is Shaded => row.shade !== undefined;

/**
 * The quickest density that reaches the wanted tone with lines that touch and without charring. The tone depends on the energy per
 * area, so power or speed compensates for the density. The density changes only how far the dose at line centres exceeds the mean.
 */
export function chooseShade(candidates: Candidates, lightness: number): Choice {
  const { material, options, rows } = candidates;
  const { charDose } = material;
  const changes = changesOf(candidates);
  const nearest = (row: PlanRow, ...reasons: Reason[]): Choice => ({
    row,
    meetsLimits: false,
    reasons,
    changes,
    notes: [],
  });
  const reaching = rows.filter(isShaded);
  if (reaching.length === 0) {
    const row = rows[rows.length - 1];
    return nearest(row, because("tone-out-of-reach", { ...row, lightness }));
  }
  const unharmed = reaching.filter(({ charRisk }) => charRisk === undefined || charRisk === "none");
  if (charDose !== undefined && unharmed.length === 0) {
    const row = minBy(reaching, ({ shade }) => shade?.peakDose ?? 0) as Shaded;
    const told = { ...row, ...row.shade, lightness, material: material.name, charDose };
    return nearest(row, because("tone-chars", told));
  }
  const touching = unharmed.filter(({ gapMm }) => gapMm === 0);
  const allowed = withinTime(touching, options);
  if (allowed.length === 0) {
    const row = minBy(touching.length > 0 ? touching : unharmed, ({ seconds }) => seconds) as Shaded;
    const minutes = touching.length > 0 ? options.minutes : undefined;
    return nearest(row, because("tone-nearest", { ...row, lightness, minutes }), powerToSet(row, candidates));
  }
  const row = minBy(allowed, ({ seconds }) => seconds) as Shaded;
  const below = reaching.find(({ charRisk }) => charRisk === "line centres");
  return {
    row,
    meetsLimits: true,
    reasons: [
      because("tone-quickest", { ...row, lightness, knowsChar: charDose !== undefined }),
      because("tone-dose", { ...row.shade, charDose }),
      powerToSet(row, candidates),
      ...(below ? [because("lower-chars", below)] : []),
    ],
    changes: [...changes, changedBy("other-densities", {})],
    notes: [],
  };
}

function changesOf({ material: { name: material, charDose }, options }: Candidates): Change[] {
  return [
    charDose === undefined
      ? changedBy("char-dose-unknown", { material })
      : changedBy("char-dose", { material, charDose }),
    changedBy("another-tone", { darkness: options.darkness }),
  ];
}

function powerToSet({ shade, seconds }: Shaded, { lens, material, options }: Candidates): Reason {
  return because("power-to-set", {
    ...shade,
    referenceLinesPerInch: linesPerInchFromPitchMm(referencePitchMm(lens.spot, material)),
    jobSpeedMmPerS: options.speedMmPerS,
    seconds,
  });
}
