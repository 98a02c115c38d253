import type { CharRiskFacts } from "../../core/material/char-risk.js";
import type { MaterialDoubt } from "../../core/material/material-doubts.js";
import { materialPresets } from "../../core/material/material-presets.js";
import type { Reader } from "../../core/reader.js";
import { speedWords } from "../../core/shown-units.js";
import { fixed, type Matter } from "./matter.js";

/*
 * Texts that reports and plans share.
 */

export const charRisk: Matter<CharRiskFacts> = {
  title: "May char",
  happens: ({ material, charDose, peakDose, where }) =>
    `Solid parts char${where === "line centres" ? " on the centres of their lines" : ""} at this density: the dose there is ${fixed(peakDose, 2)}, and ${material} chars from ${charDose}.`,
  whatToDo: () =>
    "Take more lines per inch, which even the dose out, or less power, which leaves the darkest tones lighter. Burn a small patch on scrap first.",
};

export interface LineGaps {
  readonly gapMm: number;
  readonly spotMm: number;
  readonly pitchMm: number;
  readonly matchedLinesPerInch: number;
}

export const lineGaps: Matter<LineGaps> = {
  title: "Gaps between the lines",
  happens: ({ gapMm, spotMm, pitchMm }) =>
    `The lines leave bare gaps of ${fixed(gapMm, 3)} mm, because the ${fixed(spotMm, 3)} mm spot is narrower than the ${fixed(pitchMm, 3)} mm pitch.`,
  whatToDo: ({ matchedLinesPerInch }) =>
    `From ${Math.ceil(matchedLinesPerInch)} lines per inch the gaps close. Raise the density, unless you want the stripes.`,
};

export interface RunUp {
  readonly speedMmPerS: number;
  readonly quickestMmPerS: number;
}

export const runUpDominates: Matter<RunUp> = {
  title: "Slower would be quicker",
  happens: ({ speedMmPerS, quickestMmPerS }, { units }) =>
    `At ${speedWords(speedMmPerS, units)} the run-up takes longer than the speed saves: about ${speedWords(Math.round(quickestMmPerS), units)} is quickest for lines of this length.`,
  whatToDo: (_, reader) =>
    `Lower ${reader.option("speedMmPerS")} to that, and change the power with the speed.`,
};

export const materialIllustrative: Matter<{ readonly material: string }> = {
  title: "A material that nobody measured",
  happens: ({ material }) =>
    `Nobody measured the tones of ${material} on your machine: they are illustrative, and prediction and advice are only as good as they are.`,
  whatToDo: ({ material }, reader) => measureIt(material, reader),
};

/** The one thing to do about tones that were not measured on the user's machine. A preset is named, a file is not. */
export const measureIt = (material: string, reader: Reader): string =>
  `Engrave a test card once, and measure your own: ${reader.testCard(
    materialPresets.some(({ id }) => id === material) ? material : undefined,
  )}.`;

export const materialDoubtful: Matter<MaterialDoubt> = {
  title: "A doubtful figure in the material file",
  happens(told) {
    switch (told.doubt) {
      case "colours-contradict":
        return `The colours of ${told.material} contradict its response: marks grow ${told.marksGrow}, but markedColor is ${told.marksGrow === "lighter" ? "darker" : "lighter"} than bareColor, so the preview misleads.`;
      case "no-bare-dose":
        return `The response of ${told.material} has no dose 0: the bare surface is assumed to look as after dose ${told.firstDose}.`;
      case "no-solid-dose":
        return `The response of ${told.material} ends before dose 1: a solid fill is assumed to look as after dose ${told.lastDose}.`;
      case "fills-not-reproduced":
        return `No surface gives the measured tones of ${told.material} if its fills had the pitch and spot that the file names: the nearest fill at dose ${told.dose} differs by ${fixed(told.lightness, 1)} L*.`;
      case "fills-may-ripple":
        return `The fills of ${told.material} were burned at a pitch of ${told.pitchMm} mm, and the file does not name their spot. With a spot of ${told.spotMm} mm, for example, their lines ripple: at dose ${told.dose} the predicted tone would be off by about ${fixed(told.lightness, 1)} L*.`;
      case "fills-without-pitch":
        return `The material file of ${told.material} names the spot of its fills and not their pitch, so the ripple of their lines is not taken out.`;
    }
  },
  whatToDo({ doubt }) {
    switch (doubt) {
      case "colours-contradict":
        return "Correct the colours or the response in the material file.";
      case "fills-not-reproduced":
        return "Check referencePitchMm and referenceSpotMm in the material file, and measure that fill again.";
      case "fills-may-ripple":
        return "Name the spot as referenceSpotMm in the material file, or measure fills of at least four lines to a spot.";
      case "fills-without-pitch":
        return "Add referencePitchMm to the material file.";
      default:
        return "Add that row to the material file if you can measure it.";
    }
  },
};

/** A picture that is engraved with dots and may be artwork. */
export const perhapsArtwork: Matter<{ readonly severalInks: boolean }> = {
  title: "Perhaps a logo or lettering",
  happens: ({ severalInks }) =>
    severalInks
      ? "The picture looks like a logo or lettering in several colours, so it is engraved with dots, like a photo: each colour keeps a tone of its own."
      : "The picture looks like a logo or lettering, but it is engraved with dots, like a photo.",
  whatToDo: ({ severalInks }, reader) =>
    severalInks
      ? `If all its colours should burn alike, with edges where they are drawn, set ${reader.setting("kind", "solid")}. If dots are right, set ${reader.setting("kind", "photo")}.`
      : `If it is artwork, set ${reader.setting("kind", "solid")}, which engraves without dots, with edges where they are drawn. If it is a photo, set ${reader.setting("kind", "photo")}.`,
};

export const nothingToSee: Matter<object> = {
  title: "Nothing to see in the picture",
  happens: () =>
    "There is nothing to see in the picture: it is of one tone, or its tones are so near each other that an eye takes them for one. The piece becomes an even tint, or shows only noise.",
  whatToDo: () => "Check that it is the right file.",
};

/** What helps if a photo has too few pixels for its size. */
export const LARGER_PHOTO =
  "Only a larger photo or a smaller piece shows more detail: ask for the original file.";
