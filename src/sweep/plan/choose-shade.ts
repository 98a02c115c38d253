import type { PlanRow, ShadeSetting } from "../../6-report/plan.js";
import { type Change, changedBy } from "../../6-report/words/plan-changes.js";
import { because, type Reason } from "../../6-report/words/plan-reasons.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { referencePitchMm } from "../../pipeline/describe/density-facts.js";
import { type Candidates, type Choice, leastBy, withinTime } from "./choice.js";

type Shaded = PlanRow & { readonly shade: ShadeSetting };

const isShaded = (row: PlanRow): row is Shaded => row.shade !== undefined;

/**
 * The quickest density that reaches the wanted tone with lines that touch and no point of them charred. At each density the
 * tone is a matter of energy per line, so that power or speed makes up for the density; what density does change is how far
 * the centres of the lines stick out of the mean.
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
    return nearest(row, because("tone-out-of-reach", { lightness, linesPerInch: row.linesPerInch }));
  }
  const unharmed = reaching.filter(({ charRisk }) => charRisk === undefined || charRisk === "none");
  if (charDose !== undefined && unharmed.length === 0) {
    const row = leastBy(reaching, ({ shade }) => shade?.peakDose ?? 0) as Shaded;
    const { dose, peakDose } = row.shade;
    const told = { lightness, material: material.name, charDose, dose, peakDose };
    return nearest(row, because("tone-chars", { ...told, linesPerInch: row.linesPerInch }));
  }
  const touching = unharmed.filter(({ gapMm }) => gapMm === 0);
  const allowed = withinTime(touching, options);
  if (allowed.length === 0) {
    const row = leastBy(touching.length > 0 ? touching : unharmed, ({ seconds }) => seconds) as Shaded;
    const { linesPerInch, seconds } = row;
    const minutes = touching.length > 0 ? options.minutes : undefined;
    const why = because("tone-nearest", { lightness, linesPerInch, seconds, minutes });
    return nearest(row, why, powerToSet(row, candidates));
  }
  const row = leastBy(allowed, ({ seconds }) => seconds) as Shaded;
  const { dose, peakDose } = row.shade;
  const below = reaching.find(({ charRisk }) => charRisk === "line centres");
  const knowsChar = charDose !== undefined;
  return {
    row,
    meetsLimits: true,
    reasons: [
      because("tone-quickest", { lightness, linesPerInch: row.linesPerInch, knowsChar }),
      because("tone-dose", { dose, peakDose, charDose }),
      powerToSet(row, candidates),
      ...(below ? [because("lower-chars", { linesPerInch: below.linesPerInch })] : []),
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
  const { powerFactor, speedMmPerS, secondsAtSpeed } = shade;
  return because("power-to-set", {
    powerFactor,
    referenceLinesPerInch: linesPerInchFromPitchMm(referencePitchMm(lens.spot, material)),
    jobSpeedMmPerS: options.speedMmPerS,
    seconds,
    speedMmPerS,
    secondsAtSpeed,
  });
}
