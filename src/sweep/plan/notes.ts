import type { PlanNote, PlanRow } from "../../6-report/plan.js";
import { charWarning } from "../../core/material/char-risk.js";
import type { Material } from "../../core/material/material.js";
import { lineTimeS, minLineTimeS, speedOfMinLineTimeMmPerS } from "../../core/physics/raster-timing.js";
import { durationWords, mmWords } from "../../core/words.js";
import type { CheckedPlanOptions, PlanLens } from "../../options/plan-options.js";
import { linesOf, timesWords } from "./choice.js";

/** Share of the line time that is worth a word. */
const WORTH_SAVING = 0.05;

/** A plan's choice, with what it is noted by. */
interface Chosen {
  readonly material: Material;
  readonly options: CheckedPlanOptions;
  readonly lens: PlanLens;
  readonly row: PlanRow;
  /** The density that it is compared with. */
  readonly against: PlanRow | undefined;
  readonly hasPhoto: boolean;
}

type Noting = (code: PlanNote["code"], message: string) => void;

/** What a user should know of a plan whatever the kind of work. */
export function generalNotes(chosen: Chosen): PlanNote[] {
  const notes: PlanNote[] = [];
  const note: Noting = (code, message) => void notes.push({ code, message });
  noteOutcome(chosen, note);
  noteWork(chosen, note);
  noteMachine(chosen, note);
  noteSources(chosen, note);
  return notes;
}

function noteOutcome({ material, options, row, against }: Chosen, note: Noting): void {
  if (against && options.kind !== "strip" && against.seconds > row.seconds) {
    note(
      "time-saved",
      `Against ${linesOf(against)}, which take ${timesWords(against.seconds / row.seconds)} as long, this saves ${durationWords(against.seconds - row.seconds)}.`,
    );
  }
  if (options.kind !== "strip") {
    const { dose = 1, peakDose = row.peakDose } = row.shade ?? {};
    const chars = charWarning(material.name, material.charDose, dose, peakDose);
    if (chars) note("char-risk", chars);
  }
  if (options.kind === "photo" && row.gapMm > 0) {
    note("line-gaps", `At this density lines leave gaps of ${mmWords(row.gapMm)} between them, which show.`);
  }
}

/** That the material suits another kind of work. */
function noteWork({ material, options }: Chosen, note: Noting): void {
  if (options.kind === "strip" && material.shape === "gradual") {
    note(
      "other-work",
      `${material.name} is gradual: it darkens with the dose and has no coating to take off. For a solid tone on it ask for --kind shade.`,
    );
  }
  if (options.kind === "shade" && material.shape === "steep") {
    note(
      "other-work",
      `${material.name} is steep: it is bare or marked and holds no tone in between. To take a coating off ask for --kind strip.`,
    );
  }
}

function noteMachine({ lens, options, row }: Chosen, note: Noting): void {
  if (lens.optics && options.propagationRatio === 1 && options.lensShape === "ideal") {
    note(
      "best-case-optics",
      `The spot of ${mmWords(lens.spot.acrossMm)} is the best case, for a perfect beam (--m2 1) and a perfect lens (--lens ideal). A real one is larger: give both, or measure the spot.`,
    );
  }
  const { speedMmPerS, accelerationMmPerS2 } = options;
  const widthMm = row.columns * row.pitchMm;
  const bestMmPerS = speedOfMinLineTimeMmPerS(widthMm, accelerationMmPerS2);
  const saved =
    1 - minLineTimeS(widthMm, accelerationMmPerS2) / lineTimeS(widthMm, speedMmPerS, accelerationMmPerS2);
  if (speedMmPerS > bestMmPerS && saved > WORTH_SAVING) {
    note(
      "run-up-dominates",
      `At ${Math.round(speedMmPerS)} mm/s run-up takes longer than it saves; about ${Math.round(bestMmPerS)} mm/s is quickest for lines of this length.`,
    );
  }
}

/** How far what was reckoned with can be trusted. */
function noteSources({ material, options, hasPhoto }: Chosen, note: Noting): void {
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
      `Nobody measured ${material.name} on your machine, its figures are illustrative: take doses and tones as a guide and burn a test first.`,
    );
  }
}
