import type { PlanNote, PlanRow } from "../../6-report/plan.js";
import type { Material } from "../../core/material.js";
import type { CheckedPlanOptions } from "../../core/plan-options.js";
import { leastLineTimeS, lineTimeS, speedOfLeastLineTimeMmPerS } from "../../core/raster-timing.js";
import { durationWords } from "../../core/words.js";
import { linesOf, timesWords } from "./choice.js";

/** Share of the line time that is worth a word. */
const WORTH_SAVING = 0.05;

/** What a user should know of a plan whatever the kind of work. */
export function generalNotes(
  material: Material,
  options: CheckedPlanOptions,
  row: PlanRow,
  against: PlanRow | undefined,
  hasPhoto: boolean,
): PlanNote[] {
  const notes: PlanNote[] = [];
  const note = (code: PlanNote["code"], message: string): void => void notes.push({ code, message });
  if (against && options.kind !== "strip" && against.seconds > row.seconds) {
    note(
      "time-saved",
      `Against ${linesOf(against)}, which take ${timesWords(against.seconds / row.seconds)} as long, this saves ${durationWords(against.seconds - row.seconds)}.`,
    );
  }
  if (options.kind !== "strip" && row.charRisk && row.charRisk !== "none") {
    const where =
      row.charRisk === "everywhere" ? "Solid parts char" : "Solid parts char on the centres of their lines";
    note(
      "char-risk",
      `${where} at this density: the dose there is ${(row.shade?.peakDose ?? row.peakDose).toFixed(2)}, and ${material.name} chars from ${material.charDose}. A higher density ripples less.`,
    );
  }
  const { speedMmPerS, accelerationMmPerS2 } = options;
  const widthMm = row.columns * row.pitchMm;
  const bestMmPerS = speedOfLeastLineTimeMmPerS(widthMm, accelerationMmPerS2);
  const saved =
    1 - leastLineTimeS(widthMm, accelerationMmPerS2) / lineTimeS(widthMm, speedMmPerS, accelerationMmPerS2);
  if (speedMmPerS > bestMmPerS && saved > WORTH_SAVING) {
    note(
      "run-up-dominates",
      `At ${Math.round(speedMmPerS)} mm/s run-up takes longer than it saves; about ${Math.round(bestMmPerS)} mm/s is quickest for lines of this length.`,
    );
  }
  if (options.kind === "photo" && !hasPhoto) {
    note(
      "built-in-target",
      "Without a photo, tones and visual error are those of a built-in picture of ramps and textures, and run times those of a full rectangle. Give the photo for its own.",
    );
  }
  for (const doubt of material.doubts) note("material-doubtful", doubt);
  if (material.source.startsWith("illustrative")) {
    note(
      "material-illustrative",
      `Nobody measured the ${material.name} preset on your machine: take doses and tones as a guide and burn a test first.`,
    );
  }
  return notes;
}
