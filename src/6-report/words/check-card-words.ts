import type { Reader } from "../../core/reader.js";
import { sizeWords, speedWords } from "../../core/shown-units.js";
import { densityWords, durationWords, mmWords } from "../../core/words.js";
import type { CheckCard, CheckCardJob } from "../check.js";
import { measureIt } from "./shared-matters.js";

/** A check card before it is words. */
export type CheckCardFigures = Pick<CheckCard, "job" | "tones" | "runTime" | "burnFraction">;

/** How to engrave it, in order. */
export function checkCardSteps({ job, runTime }: CheckCardFigures, reader: Reader): string[] {
  const { units } = reader;
  const speed = job.isSpeedGiven ? speedWords(job.speedMmPerS, units) : "the speed of your jobs";
  const greys =
    job.levels === 2
      ? "It has black and white pixels only: switch"
      : `It has ${job.levels} greys, and each is a power level: let the grey set the power of each pixel, and switch`;
  return [
    `Take a flat piece of ${job.material}, of the batch that you will engrave, and prepare it as you do for real work.`,
    `Load the bitmap with its own size, ${sizeWords(job, units)}, and set ${densityWords(job.linesPerInch)} lines per inch and ${speed}. ${greys} off every correction, smoothing and dithering of your machine's software.`,
    `Set the power of a job at this density. It is ${job.power}.`,
    job.oneWay ? "Burn all lines in the same direction." : "Burn in both directions.",
    `Set the focus as for real work. Burn the card in one go: it takes about ${durationWords(runTime.seconds)}. Stay with the machine.`,
    "Let the card cool, and clean it as you clean a finished piece.",
  ];
}

/** What the card shows and what it does not. */
export function checkCardNotes({ job, tones }: CheckCardFigures, reader: Reader): string[] {
  return [
    ...measuredNote(job, reader),
    `The wedge has ${tones.length - 1} tones between bare and solid, each in ${Math.min(...tones.map(({ patches }) => patches))} patches or more, with the halftone ${job.method} at the density of the job. Their tones were predicted from the bitmap itself, with a spot of ${spotWords(job)}.`,
    job.photo === ""
      ? "The picture is a built-in one. Give a photo of your own to see that instead."
      : `The picture is ${job.photo}, prepared like the wedge.`,
    "Compare the picture with the preview by eye, and let the reading of your picture judge the wedge.",
    "Keep card.json: it says what the tones should be, and the reading needs it.",
  ];
}

const spotWords = ({ spotAlongMm, spotAcrossMm }: CheckCardJob): string =>
  spotAlongMm === spotAcrossMm ? mmWords(spotAcrossMm) : `${mmWords(spotAlongMm)} × ${mmWords(spotAcrossMm)}`;

const measuredNote = ({ isMeasured, material }: CheckCardJob, reader: Reader): string[] =>
  isMeasured
    ? []
    : [
        `Nobody measured ${material} on your machine, so this card will probably show that its tones are off. ${measureIt(material, reader)}`,
      ];
