import { lengthWords, sizeWords } from "../../../core/shown-units.js";
import { wholePercent } from "../../../core/words.js";
import type { Report, ReportTone } from "../../report.js";
import { pictureSize } from "../report-words.js";
import { perhapsArtwork } from "../shared-matters.js";
import { warning } from "./rule.js";

/** Two photos in three that are cut to the other usual shapes, 3:2 to square, keep more than this. */
const MUCH_CUT_OFF = 0.6;

/** Fewer steps than these of the usual 255 are more than 1.5 L* apart when stretched; from 1 L* on a step can be seen. */
const FEW_STEPS = 64;
/** Even fewer are not stretched in full. */
const MIN_STEPS = 8;

/**
 * Capitals as high as this many marks are legible. The narrowest gap of the font, that of an e, is 0.21 of the height of its capitals; ten
 * marks high it is two marks wide, and half of it is left when the strokes beside it grow by a mark together.
 */
const LEGIBLE_MARKS = 10;

interface FewTones {
  /** 0 to 255 */
  readonly darkest: number;
  readonly lightest: number;
  /** Tones in the file from one to the other, if it stores no more than 256 in all. */
  readonly steps?: number;
}

function fewTones({ darkest255, lightest255 }: ReportTone, sourceBits: number): FewTones | undefined {
  if (darkest255 === undefined || lightest255 === undefined) return undefined;
  const range = lightest255 - darkest255;
  if (range >= FEW_STEPS || range < MIN_STEPS) return undefined;
  const [darkest, lightest] = [darkest255, lightest255].map(Math.round);
  return { darkest, lightest, ...(sourceBits <= 8 && { steps: lightest - darkest + 1 }) };
}

/** What is wrong with the tones, and the photo that would have more of them. */
function fewTonesWords({ darkest, lightest }: FewTones): { readonly wrong: string; readonly better: string } {
  if (lightest < 128)
    return { wrong: `is very dark: its tones go up to ${lightest} of 255 only`, better: "with more light" };
  if (darkest >= 128)
    return {
      wrong: `is very pale: its tones go down to ${darkest} of 255 only`,
      better: "with less exposure",
    };
  return {
    wrong: `has very little contrast: its tones go from ${darkest} to ${lightest} of 255 only`,
    better: "in better light",
  };
}

/** All the way round a cone that is laid out flat, the photo's middle lies on that of the sheet. */
const isFocusTaken = ({ around }: Report["job"]): boolean =>
  around?.placed !== undefined || around?.cone?.layout !== "flat";

/** Warnings about the picture itself, or about its treatment. */
export const pictureWarnings = {
  "photo-damaged": warning({
    title: "The photo's file looks damaged",
    when: ({ facts }) => facts.looksDamaged && {},
    happens: () =>
      "The photo's file looks damaged: its data do not end where they should, so parts of the picture may be smeared, shifted or of a wrong tone.",
    whatToDo: () => "Check the preview. If you see such parts, copy the file again or ask for it again.",
  }),
  "text-small": warning({
    title: "The text is small for the spot",
    when: ({ job }) => {
      const { text, spotAlongMm, spotAcrossMm, pitchAlongMm, pitchAcrossMm } = job;
      const markMm = Math.max(spotAlongMm, spotAcrossMm, pitchAlongMm, pitchAcrossMm);
      const leastMm = LEGIBLE_MARKS * markMm;
      return text !== undefined && text.heightMm < leastMm && { heightMm: text.heightMm, leastMm };
    },
    happens: ({ heightMm, leastMm }, { units }) =>
      `Capitals of ${lengthWords(heightMm, units)} are less than ${LEGIBLE_MARKS} marks high: strokes grow together, and letters such as a and e fill up. From ${lengthWords(leastMm, units)} on they stay open.`,
    whatToDo: ({ leastMm }, reader) =>
      `Set ${reader.setting("textHeightMm", Number(leastMm.toFixed(2)))}, or use a smaller spot.`,
  }),
  "few-tones": warning({
    title: "A photo of few tones",
    when: ({ tone, facts: { sourceBits } }) => tone && fewTones(tone, sourceBits),
    happens(few) {
      const { steps } = few;
      const stretched = steps === undefined ? "them" : `these ${steps} steps`;
      const banding = steps === undefined ? "" : ", and smooth areas may show steps";
      return `The photo ${fewTonesWords(few).wrong}. Automatic levels stretch ${stretched} over the whole scale, so noise and traces of compression get stronger${banding}.`;
    },
    whatToDo: (few, reader) =>
      `Check the preview. A photo ${fewTonesWords(few).better}, or one developed anew from the camera's raw file, has more tones. To keep the tones as they are, set ${reader.setting("autoTone", false)}.`,
  }),
  "nothing-burns": warning({
    title: "Nothing burns",
    when: ({ coverage, job, facts }) =>
      coverage.burnFraction === 0 && { kind: job.kind, material: job.material, darkens: facts.darkens },
    happens: ({ kind, material, darkens }) =>
      kind === "solid"
        ? `Nothing burns: no part of the drawing is ${darkens ? "dark" : "light"} and covers a pixel.`
        : `Nothing burns: the whole picture is as ${darkens ? "light" : "dark"} as the bare ${material}.`,
    whatToDo: ({ kind, darkens }, reader) =>
      kind === "solid"
        ? `Draw what is to burn ${darkens ? "dark" : "light"}, and large enough. Or swap light and dark with ${reader.setting("negative", true)}.`
        : `Check that it is the right photo. If it is, remove ${reader.setting("autoTone", false)}, ${reader.option("brightness")} and ${reader.option("gamma")}.`,
  }),
  "taken-for-artwork": warning({
    title: "Taken for a logo or lettering",
    when: ({ job }) => job.kindGuessed && job.kind === "solid" && {},
    happens: () =>
      "The picture was taken for a logo or lettering, so it is engraved without dots, with edges where they are drawn.",
    whatToDo: (_, reader) =>
      `If that is right, set ${reader.setting("kind", "solid")}. If it is a photo, set ${reader.setting("kind", "photo")}.`,
  }),
  "looks-like-artwork": warning({
    ...perhapsArtwork,
    when: ({ facts: { looksLikeArtwork, severalInks, mergedColours } }) =>
      looksLikeArtwork && { severalInks: severalInks && mergedColours.length === 0 },
  }),
  "negative-idle": warning({
    title: "Nothing to swap",
    when: ({ facts }) => facts.negativeIdle && {},
    happens: (_, reader) =>
      `${reader.option("negative")} changes nothing here: a single ink on a transparent ground burns as it is drawn, and what is transparent stays bare.`,
    whatToDo: () => "Remove it. To burn the ground instead, put the drawing on a white or black one.",
  }),
  "negative-photo": warning({
    title: "A photo with light and dark swapped",
    when: ({ job: { negative, kind, material }, facts: { looksLikeArtwork, severalInks } }) =>
      negative && kind === "photo" && !looksLikeArtwork && !severalInks && { material },
    happens: ({ material }, reader) =>
      `${reader.setting("negative", true)} makes a negative of the photo: what is light in it comes out dark on the piece. Tones come out right without it: the bitmap already allows for the marks that ${material} takes.`,
    whatToDo: (_, reader) =>
      `Remove ${reader.option("negative")}, unless you want a negative. It is for a dark drawing on a light ground whose ink should come out light.`,
  }),
  "much-cut-off": warning({
    title: "Much of the picture is cut off",
    when: ({ input: { shownShare }, job }) =>
      shownShare < MUCH_CUT_OFF && {
        shownShare,
        ...pictureSize(job),
        hasFocus: job.focus !== undefined,
        takesFocus: isFocusTaken(job),
      },
    happens: ({ shownShare, hasFocus, ...size }, { units }) =>
      `Only ${wholePercent(shownShare)} of the picture is on the piece, ${hasFocus ? "around the focus" : "its middle"}: the rest was cut off to fill ${sizeWords(size, units)}.`,
    whatToDo: ({ hasFocus, takesFocus }, reader) =>
      `Check the preview. ${reader.setting("fit", "contain")} keeps all of the picture, with bare surface beside it.${hasFocus ? "" : ` ${reader.option(takesFocus ? "focus" : "crop")} sets what must stay in view.`}`,
  }),
};
