import type { DataOf } from "../../core/told.js";
import { wholePercent } from "../../core/words.js";
import type { Finding, FindingCode } from "./findings.js";

interface Graded {
  readonly grade: Finding["grade"];
}

interface Share {
  readonly share: number;
}

interface TooFewPixels extends Graded {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly widthMm: number;
  readonly pxPerMm: number;
  readonly neededPxPerMm: number;
  readonly largestWidthMm: number;
}

const mm = (length: number): string =>
  `${length < 20 ? Number(length.toPrecision(2)) : Math.floor(length + 1e-6)} mm`;

/** @param share of the scale between black and white */
const usedWords = (share: number): string =>
  `it uses only ${wholePercent(share)} of the tones between black and white.`;

const brighterWords = (grade: Finding["grade"], how: string): string =>
  grade === "ask"
    ? `Do you have one with ${how}, or the original from the camera or phone?`
    : `A picture with ${how} would look cleaner.`;

/** Texts from the workshop to a customer: what we see, what it means for the piece, what would help. */
export const customerWords = {
  DAMAGED: () =>
    "Your picture seems to have been damaged on its way to us: parts of it may be smeared, shifted or of a wrong tone. Could you send the file once more?",
  TOO_FEW_PIXELS: ({ grade, widthPx, heightPx, widthMm, pxPerMm, neededPxPerMm, ...told }: TooFewPixels) => {
    const size = `Your picture has ${widthPx} × ${heightPx} pixels. At a width of ${mm(widthMm)} that is ${pxPerMm.toFixed(1)} pixels for each millimetre, and the engraving can show ${neededPxPerMm.toFixed(1)}.`;
    const largest = mm(told.largestWidthMm);
    return grade === "ask"
      ? `${size} It would look coarse. The pixels are enough for a width of up to ${largest}. Do you have the original picture, straight from the camera or phone? Or shall we engrave it smaller?`
      : `${size} Fine detail will be a little soft. It is fully sharp up to a width of ${largest}. If you have a larger version, please send it.`;
  },
  BLURRED: ({ grade, blurMm }: Graded & { readonly blurMm: number }) =>
    grade === "ask"
      ? `Your picture is blurred: on the piece even its sharpest edges would spread over ${mm(blurMm)}. Do you have a sharper one, or the original before it was enlarged or sent through a messenger?`
      : `Your picture is a little soft: on the piece its sharpest edges spread over ${mm(blurMm)}. We can engrave it, but a sharper one would show more.`,
  CLIPPED_HIGHLIGHTS: ({ share }: Share) =>
    `${wholePercent(share)} of your picture is pure white and shows no detail. If that is not a plain background, a darker exposure would show more.`,
  CLIPPED_SHADOWS: ({ share }: Share) =>
    `${wholePercent(share)} of your picture is pure black and shows no detail. If that is not a plain background, a brighter exposure would show more.`,
  TOO_DARK: ({ grade, share }: Graded & Share) =>
    `Your picture is ${grade === "ask" ? "very dark" : "dark"}: ${usedWords(share)} We brighten it, and that brings out grain and steps between the tones. ${brighterWords(grade, "more light")}`,
  TOO_PALE: ({ grade, share }: Graded & Share) =>
    `Your picture is ${grade === "ask" ? "very pale" : "pale"}: ${usedWords(share)} We darken it, and that brings out grain and steps between the tones. ${brighterWords(grade, "a darker exposure")}`,
  LOW_CONTRAST: ({ grade }: Graded) =>
    grade === "ask"
      ? "Your picture has very little contrast, so there is hardly anything to engrave. Do you have one in better light?"
      : "Your picture has little contrast. We raise it, which also brings out grain. A picture in better light would look cleaner.",
  JPEG_BLOCKS: ({ grade }: Graded) =>
    grade === "ask"
      ? "Your picture was compressed so strongly that it has fallen into small squares, and they would be engraved too. Do you have the original, for example from the phone itself instead of a messenger?"
      : "Your picture was compressed rather strongly, so faint squares may show in even areas. If you have the original, please send it.",
  ALREADY_DITHERED: () =>
    "Your picture is already made of black and white dots. Engraving dots again gives a coarse pattern. Do you have the photograph from which it was made?",
  SCREENSHOT: () =>
    "Your picture looks like a screenshot or a drawing: large parts are perfectly even. If it shows a photo, please send the photo itself, which holds more detail. And please check that no bars or buttons are in the picture.",
  ARTWORK: () =>
    "Your picture looks like a logo or lettering, and we have engraved it with tones, like a photo. If you want it in solid lines, please tell us.",
  TRANSPARENT: () => "Parts of your picture are transparent. They will stay bare.",
  MANY_PAGES: ({ pages }: { readonly pages: number }) =>
    `Your file holds ${pages} pictures or pages. We take the first.`,
  CROPPED: ({ grade, share }: Graded & Share) =>
    `Your picture has another shape than the piece, so ${wholePercent(share)} of it is cut off. ${grade === "ask" ? "Is that all right, and which part matters most to you?" : "We keep the middle unless you tell us otherwise."}`,
  STRETCHED: ({ grade }: Graded) =>
    `Your picture has another shape than the piece and will be stretched to fit it. ${grade === "ask" ? "Faces and circles will look wrong. Is that all right?" : "It will hardly show."}`,
  EXTREME_SHAPE: ({ grade, widthMm, heightMm }: Graded & Readonly<Record<"widthMm" | "heightMm", number>>) =>
    `Your picture is very long and narrow: the piece will measure ${mm(widthMm)} × ${mm(heightMm)}. ${grade === "ask" ? "Is that what you want?" : "Please tell us if you meant another part of it."}`,
  NOTHING_BURNS: () =>
    "In your picture we found nothing to engrave: it is of one tone, or what is drawn is too fine. Is it the right file?",
  SHADES_LOST: () =>
    "Your picture has shades or fine parts that a drawing in two tones cannot keep: they become all or nothing.",
} satisfies Record<FindingCode, (data: never) => string>;

/** A finding in words. */
export function finding<Code extends FindingCode>(
  code: Code,
  data: Graded & DataOf<(typeof customerWords)[Code]>,
): Finding {
  const words: (data: never) => string = customerWords[code];
  return { code, grade: data.grade, message: words(data as never) };
}
