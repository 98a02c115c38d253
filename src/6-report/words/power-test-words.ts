import type { Reader } from "../../core/reader.js";
import { lengthWords, type ShownUnits, sizeWords, speedWords } from "../../core/shown-units.js";
import { densityWords, durationWords, mmWords } from "../../core/words.js";
import type { PowerTest } from "../power-test.js";

/** A test before it is words. */
export type PowerTestFigures = Pick<PowerTest, "job" | "patches" | "powerRatio" | "secondsPerPatch">;

/** Percent in the example of the outcome. */
const EXAMPLE_PERCENT = 40;
/** From one power to the next, for a finer setting. Common practice, no source. */
const FINE_RATIO = 1.1;
/** Bare wood between two patches, in mm. */
const APART_MM = 2;

/** What to do, in order. */
export function powerTestSteps(test: PowerTestFigures, units: ShownUnits): string[] {
  const { job, patches, powerRatio, secondsPerPatch } = test;
  const { marksGrow } = job;
  const tone = marksGrow === "darker" ? "dark" : "light";
  const speed = job.isSpeedGiven ? speedWords(job.speedMmPerS, units) : "your usual speed";
  const apart = lengthWords(Math.ceil(job.widthMm) + APART_MM, units);
  return [
    `Take scrap of the same batch of ${job.material}. Load the patch with its own size, ${sizeWords(job, units)}, and set ${densityWords(job.linesPerInch)} lines per inch and ${speed}. Keep both for all patches.`,
    `Choose ${patches} powers. The first should hardly leave a mark. Make each of the others about ${powerRatio} times the one before. Write them into the table.`,
    `Burn the patch ${patches} times side by side, from the weakest power to the strongest. Move it by ${apart} each time, and write its number beside it. One patch takes about ${durationWords(secondsPerPatch)}.`,
    `Let the scrap cool, and clean it as you clean a finished piece. Look at it from above, in even light.`,
    `Find the first patch that is as ${tone} as the next one. It must not be damaged: no crust, no cracks, no burned or melted rim. Its power is your full-tone setting.`,
    `If each patch is still ${marksGrow} than the one before, burn ${patches} stronger ones. If the first two look alike, burn ${patches} weaker ones. If a patch chars or breaks up before two look alike, take the strongest one that is not damaged. For a finer setting, burn more patches between the last two that you looked at, each at about ${FINE_RATIO} times the power of the one before.`,
  ];
}

/** What may go wrong, and what the figures assume. */
export function powerTestNotes({ job, patches }: PowerTestFigures): string[] {
  const { gapMm, charDose, material } = job;
  return [
    `A bitmap cannot say a power, so one file is burned ${patches} times. If your machine's software keeps a power for each object, place ${patches} copies in one job and give each its own.`,
    ...(gapMm > 0
      ? [
          `At this density lines leave bare gaps of ${mmWords(gapMm)}: judge the lines, not the gaps between them.`,
        ]
      : []),
    ...(charDose === undefined
      ? []
      : [`By its figures ${material} chars from about ${charDose} times the power for full tone.`]),
    "Reports take the percent as proportional to the power. Weak sources often are not, least of all near the lowest power that fires: try the final setting on scrap too.",
  ];
}

/** The option to give afterwards. */
export function powerTestOutcome({ job }: Pick<PowerTest, "job">, reader: Reader): string {
  const { linesPerInch, isSpeedGiven, speedMmPerS } = job;
  return reader.fullTone({
    percent: EXAMPLE_PERCENT,
    linesPerInch,
    ...(isSpeedGiven && { speedMmPerS }),
  });
}
