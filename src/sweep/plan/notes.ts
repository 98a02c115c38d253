import type { PlanRow } from "../../6-report/plan.js";
import type { PowerToSet } from "../../6-report/report.js";
import { type Note, noted } from "../../6-report/words/plan-notes.js";
import { LOW_POWER } from "../../6-report/words/power-words.js";
import { charRiskFacts } from "../../core/material/char-risk.js";
import type { Material } from "../../core/material/material.js";
import { lineTimeS, minLineTimeS, speedOfMinLineTimeMmPerS } from "../../core/physics/raster-timing.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import type { IdleOption } from "../../options/option.js";
import type { CheckedPlanOptions, PlanLens } from "../../options/plan-options.js";

/** Minimum share of the line time that is mentioned. */
const WORTH_SAVING = 0.05;

/** A plan's choice, with the data for its notes. */
export interface Chosen {
  readonly material: Material;
  readonly options: CheckedPlanOptions;
  readonly lens: PlanLens;
  readonly row: PlanRow;
  readonly power: PowerToSet;
  /** The density that the user would otherwise run. */
  readonly against: PlanRow | undefined;
  readonly hasPhoto: boolean;
  readonly idle: readonly IdleOption[];
}

/** Notes on a plan for every kind of work. */
export function generalNotes(chosen: Chosen): Note[] {
  const { material, options, lens, row, hasPhoto } = chosen;
  const { kind } = options;
  const isBestCase = lens.optics && options.propagationRatio === 1 && options.lensShape === "ideal";
  return [
    ...(kind === "strip" ? [] : [...savingNotes(chosen), ...charNotes(chosen)]),
    ...powerNotes(chosen),
    ...(kind === "photo" ? gapNotes(chosen) : []),
    ...workNotes(chosen),
    ...chosen.idle.map((each) =>
      noted("option-idle", row.method === undefined ? { ...each, method: "none" } : each),
    ),
    ...(isBestCase ? [noted("best-case-optics", { spotMm: lens.spot.acrossMm })] : []),
    ...speedNotes(row, options),
    ...(kind === "photo" && !hasPhoto ? [noted("built-in-target", {})] : []),
    ...material.doubts.map((doubt) => noted("material-doubtful", doubt)),
    ...(material.source.startsWith("illustrative")
      ? [noted("material-illustrative", { material: material.name })]
      : []),
  ];
}

function savingNotes({ row: chosen, against: other }: Chosen): Note[] {
  return other && other.seconds > chosen.seconds ? [noted("time-saved", { other, chosen })] : [];
}

function charNotes({ material, row }: Chosen): Note[] {
  const { dose = 1, peakDose = row.peakDose } = row.shade ?? {};
  const facts = charRiskFacts(material.name, material.charDose, dose, peakDose);
  return facts ? [noted("char-risk", facts)] : [];
}

function powerNotes({ power: { message: _, ...figures } }: Chosen): Note[] {
  const { percent, fullPowerSpeedMmPerS } = figures;
  if (percent !== undefined && percent < LOW_POWER) return [noted("power-very-low", figures)];
  return fullPowerSpeedMmPerS === undefined ? [] : [noted("power-too-weak", figures)];
}

function gapNotes({ lens, row: { gapMm, pitchMm } }: Chosen): Note[] {
  const spotMm = lens.spot.acrossMm;
  const matchedLinesPerInch = linesPerInchFromPitchMm(spotMm);
  return gapMm > 0 ? [noted("line-gaps", { gapMm, spotMm, pitchMm, matchedLinesPerInch })] : [];
}

/** A note if the material is for another kind of work. */
function workNotes({ material: { name: material, shape }, options: { kind } }: Chosen): Note[] {
  const isOther = (kind === "strip" && shape === "gradual") || (kind === "shade" && shape === "steep");
  return isOther ? [noted("other-work", { material, shape })] : [];
}

function speedNotes(row: PlanRow, { speedMmPerS, accelerationMmPerS2 }: CheckedPlanOptions): Note[] {
  const widthMm = row.columns * row.pitchMm;
  const quickestMmPerS = speedOfMinLineTimeMmPerS(widthMm, accelerationMmPerS2);
  const saved =
    1 - minLineTimeS(widthMm, accelerationMmPerS2) / lineTimeS(widthMm, speedMmPerS, accelerationMmPerS2);
  const isWorthIt = speedMmPerS > quickestMmPerS && saved > WORTH_SAVING;
  return isWorthIt ? [noted("run-up-dominates", { speedMmPerS, quickestMmPerS })] : [];
}
