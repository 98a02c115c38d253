import { charWarning } from "../../core/material/char-risk.js";
import { wholePercent } from "../../core/words.js";
import { defaultLinesPerInch } from "../../options/options.js";
import type { Report, Warning } from "../report.js";
import { edgeWarnings } from "./edge-warnings.js";
import { levelWarnings } from "./level-warnings.js";
import { sizeWords } from "./report-words.js";
import { roundWarnings } from "./round-warnings.js";

/** Facts that bear on warnings but have no place in the report itself. */
export interface WarningFacts {
  /** What is doubtful about the material's data, in sentences; told first. */
  readonly materialDoubts: readonly string[];
  readonly materialShape: "steep" | "gradual";
  /** Dose from which the material chars, where it says so. */
  readonly charDose: number | undefined;
  /** True where burning darkens the surface. */
  readonly darkens: boolean;
  readonly methodKeepsMean: boolean;
  readonly looksLikeArtwork: boolean;
  /** Whether the photo's file was changed on the way. */
  readonly looksDamaged: boolean;
  /** Whether swapping light and dark was asked for where it changes nothing. */
  readonly negativeIdle: boolean;
  readonly speedMmPerS: number;
  /** How far odd lines sit off the even ones; 0 where all are burned in one direction. */
  readonly lineShiftMm: number;
  /** Share of the line time that the quickest speed would save. */
  readonly savedAtQuickestSpeed: number;
}

/** From here on a steep material's overlapping lines make its tones swing with the dose. */
const FRAGILE_OVERDRIVE = 1.5;
/** Expected visual error, in L*, that is three times a just noticeable difference. */
const DOSE_SENSITIVE = 3;
/** And it must be the dose's doing: so many times the error at nominal dose. */
const DUE_TO_DOSE = 1.5;
/** Share of the line time that is worth a word. */
const WORTH_SAVING = 0.05;
/** Visual error at nominal dose that an eye at the viewing distance will see as grain. */
const VISIBLE = 1;
/** Share of burned pixels on a material that lightens from which the background is likely among them. */
const MOSTLY_BURNED = 0.5;
const LARGE_SPOT_MM = 0.5;
/** Two photos in three that are cut to the other usual shapes, 3:2 to square, keep more than this. */
const MUCH_CUT_OFF = 0.6;
/** The photo should carry at least this share of the detail that pitch and spot allow. */
const ENOUGH_DETAIL = 0.6;

/** What a user should know before burning. Takes the report without its warnings. */
export function warningsFor(report: Omit<Report, "warnings">, facts: WarningFacts): Warning[] {
  const { job, coverage, detail, prediction, runTime } = report;
  const warnings: Warning[] = [];
  const warn = (code: Warning["code"], message: string): void => {
    warnings.push({ code, message });
  };
  const spotMm = fixed(job.spotAcrossMm, 3);
  for (const doubt of facts.materialDoubts) warn("material-doubtful", doubt);

  if (facts.looksDamaged) {
    warn(
      "photo-damaged",
      "The photo's file looks damaged: its data do not end where they should, so parts of the picture may be smeared, shifted or of a wrong tone. Look at the photo and at the preview; if they are, copy the file again or ask for it again.",
    );
  }
  if (coverage.burnFraction === 0) {
    const [bare, ink] = facts.darkens ? ["light", "dark"] : ["dark", "light"];
    warn(
      "nothing-burns",
      job.kind === "solid"
        ? `Nothing burns: no part of the drawing is ${ink} and covers a pixel. Draw what is to burn ${ink}, and large enough, or swap light and dark with --negative.`
        : `Nothing burns: the picture is as ${bare} as the bare ${job.material} throughout.`,
    );
  }
  if (job.kindGuessed && job.kind === "solid") {
    warn(
      "taken-for-artwork",
      "The picture is taken for a logo or lettering, and engraved without dots as --kind solid does; if it is a photo say --kind photo.",
    );
  }
  if (facts.looksLikeArtwork) {
    warn(
      "looks-like-artwork",
      "The picture looks like a logo or lettering. If it is, --kind solid engraves it without dots, edges where they are drawn; --kind photo says that it is a photo.",
    );
  }
  if (facts.negativeIdle) {
    warn(
      "negative-idle",
      "--negative changes nothing here: a single ink on a transparent ground burns as it is drawn, and what is transparent stays bare. To burn the ground instead, put the drawing on a white or black one.",
    );
  }
  if (report.input.shownShare < MUCH_CUT_OFF) {
    const kept = job.focus ? "about the focus" : "the middle";
    warn(
      "much-cut-off",
      `Only ${wholePercent(report.input.shownShare)} of the picture is on the piece, ${kept}: the rest was cut off to fill ${sizeWords(job)}. --fit contain keeps all of it with bare surface beside it${job.focus ? "" : ", --focus says what must stay in view"}.`,
    );
  }
  warnings.push(...edgeWarnings(report), ...levelWarnings(report, facts.materialShape));
  if (!facts.darkens && coverage.burnFraction > MOSTLY_BURNED) {
    warn(
      "mostly-burned",
      `${wholePercent(coverage.burnFraction)} of the pixels burn${job.levels > 2 ? ", counted at full power" : ""}. If much of that is background, cut it out, for transparent parts stay bare${job.kind === "solid" ? ", or swap light and dark with --negative" : ""}.`,
    );
  }
  if (Math.max(job.spotAlongMm, job.spotAcrossMm) > LARGE_SPOT_MM) {
    warn(
      "spot-large",
      `A spot of ${fixed(Math.max(job.spotAlongMm, job.spotAcrossMm), 2)} mm is unusually large: check its unit and its decimal point.`,
    );
  }
  if (coverage.gapMm > 0) {
    warn(
      "line-gaps",
      `Lines leave gaps of ${fixed(coverage.gapMm, 3)} mm: the ${spotMm} mm spot is narrower than the ${fixed(job.pitchAcrossMm, 3)} mm pitch. From ${Math.ceil(job.matchedLinesPerInch)} lines per inch they close.`,
    );
  }
  warnings.push(...roundWarnings(job));
  const chars = charWarning(job.material, facts.charDose, 1, coverage.peakDose);
  if (chars) warn("char-risk", chars);
  const tonal = job.kind === "photo";
  const picture = tonal ? "photo" : "picture";
  const carried = Math.min(detail.acrossLpPerMm.at10, detail.alongLpPerMm.at10);
  const carriedAtMatched = Math.min(carried, 1 / (2 * Math.max(job.spotAlongMm, job.spotAcrossMm)));
  const usual = defaultLinesPerInch(job.spotAcrossMm, facts.materialShape);
  if (detail.photoLpPerMm < ENOUGH_DETAIL * carriedAtMatched) {
    warn(
      "photo-coarse-for-size",
      `The ${picture} is coarse for this size: ${fixed(detail.photoLpPerMm, 1)} line pairs per mm, where spots that just touch carry ${fixed(carriedAtMatched, 1)}. Only a larger ${picture} or a smaller piece shows more detail.`,
    );
  } else if (tonal && job.linesPerInch > usual && detail.photoLpPerMm < ENOUGH_DETAIL * carried) {
    warn(
      "photo-coarser-than-density",
      `The photo carries ${fixed(detail.photoLpPerMm, 1)} line pairs per mm, this density ${fixed(carried, 1)}: the extra lines buy tones, not detail. Spots just touch at ${Math.round(job.matchedLinesPerInch)} lines per inch.`,
    );
  }
  const { firingLpPerMm, firingFreeUpToMmPerS, limitedBy } = detail.alongLimits;
  if (limitedBy === "firing" && firingLpPerMm !== undefined && firingFreeUpToMmPerS !== undefined) {
    const others = Math.min(detail.alongLimits.spotLpPerMm, detail.alongLimits.pitchLpPerMm);
    if (detail.photoLpPerMm > firingLpPerMm) {
      warn(
        "firing-blurs",
        `At ${fixed(facts.speedMmPerS, 0)} mm/s the firing lag leaves half the contrast at ${fixed(firingLpPerMm, 1)} line pairs per mm along the lines, where spot and pitch carry ${fixed(others, 1)}. Up to ${Math.floor(firingFreeUpToMmPerS)} mm/s it is not the limit.`,
      );
    }
  }
  const cancelled = 1 / (3 * Math.abs(facts.lineShiftMm));
  if (tonal && cancelled < Math.min(detail.alongLimits.spotLpPerMm, detail.alongLimits.pitchLpPerMm)) {
    warn(
      "lines-shifted",
      `Every other line lies ${fixed(Math.abs(facts.lineShiftMm), 3)} mm aside (--line-shift): along the lines half the contrast is gone at ${fixed(cancelled, 1)} line pairs per mm, and upright edges fray.`,
    );
  }
  if (tonal && facts.materialShape === "steep" && job.overdrive >= FRAGILE_OVERDRIVE) {
    warn(
      "steep-at-overdrive",
      `Steep material at overdrive ${fixed(job.overdrive, 1)}: tone will swing with dose. A density near ${Math.round(job.matchedLinesPerInch)} lines per inch, or dots that hang together (clustered-dot, green-noise), holds up better.`,
    );
  }
  if (
    prediction &&
    prediction.expectedVisualError > DOSE_SENSITIVE &&
    prediction.expectedVisualError > DUE_TO_DOSE * prediction.visualErrorRms
  ) {
    warn(
      "dose-sensitive",
      `A dose that wanders by ${wholePercent(job.doseSpread)} shifts this piece by about ${fixed(prediction.expectedVisualError, 1)} L* on average; 1 is just noticeable. Burn a test piece from the same batch first.`,
    );
  }
  if (prediction && prediction.visualErrorRms > VISIBLE && job.compensated && tonal) {
    warn(
      "visible-grain",
      `At ${fixed(job.viewDistanceMm, 0)} mm the dots will show as grain (${fixed(prediction.visualErrorRms, 1)} L* rms). A higher density or another method makes it finer.`,
    );
  }
  if (!job.compensated) {
    const what = tonal ? "Tones are not compensated" : "Edges are not moved";
    warn("uncompensated", `${what} for spot and material; expect them to come out wrong.`);
  }
  if (tonal && !facts.methodKeepsMean) {
    warn(
      "method-drops-tone",
      `The ${job.method} method does not keep all tones: highlights or shadows may clip.`,
    );
  }
  if (
    runTime.quickestSpeedMmPerS > 0 &&
    facts.speedMmPerS > runTime.quickestSpeedMmPerS &&
    facts.savedAtQuickestSpeed > WORTH_SAVING
  ) {
    warn(
      "run-up-dominates",
      `At ${fixed(facts.speedMmPerS, 0)} mm/s run-up takes longer than it saves; about ${fixed(runTime.quickestSpeedMmPerS, 0)} mm/s is quickest for these lines.`,
    );
  }
  if (/^illustrative\b/i.test(job.materialSource)) {
    warn(
      "material-illustrative",
      `Nobody measured the tones of ${job.material}; its figures are illustrative. Take them as a guide and burn a test first.`,
    );
  } else if (!/^measured\b/i.test(job.materialSource)) {
    warn(
      "material-not-measured-here",
      `The tones of ${job.material} are not marked as measured (source: ${job.materialSource}). Burn a test on your machine first.`,
    );
  }
  return warnings;
}

const fixed = (value: number, digits: number): string => value.toFixed(digits);
