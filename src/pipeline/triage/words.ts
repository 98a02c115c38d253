import { type Blur, photoWords, wholeMm } from "../../6-report/words/photo-words.js";
import type { DataOf } from "../../core/told.js";
import { wholePercent } from "../../core/words.js";
import { customerWords, sizeMm } from "./customer-texts.js";
import type { Finding, FindingCode } from "./findings.js";
import { withoutContradictions } from "./said-once.js";

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

/** @param share of the scale between black and white */
const usedWords = (share: number): string =>
  `it uses only ${wholePercent(share)} of the tones between black and white.`;

const badly = ({ grade }: Graded): boolean => grade === "ask";
const very = (graded: Graded): string => (badly(graded) ? "very " : "");

/** What the workshop should know: what was found, with its figures, and what the workshop can do. Customers get other words. */
export const shopWords = {
  DAMAGED: () => "The file seems to be damaged: parts of it may be smeared, shifted or of a wrong tone.",
  TOO_FEW_PIXELS: ({ widthPx, heightPx, widthMm, pxPerMm, neededPxPerMm, largestWidthMm }: TooFewPixels) =>
    `At a width of ${sizeMm(widthMm)}, ${widthPx} × ${heightPx} pixels are ${pxPerMm.toFixed(1)} for each millimetre, and spot and lines can show ${neededPxPerMm.toFixed(1)}. They are enough for a width of up to ${wholeMm(largestWidthMm)}, or for a lower density.`,
  BLURRED: (data: Graded & Blur) => photoWords.blurred(data, badly(data)),
  GRAINY: ({ drowned }: Graded & { readonly drowned: boolean }) => photoWords.grainy(drowned),
  CLIPPED_HIGHLIGHTS: ({ share }: Share) => photoWords.white(share),
  CLIPPED_SHADOWS: ({ share }: Share) => photoWords.black(share),
  TOO_DARK: (data: Graded & Share) =>
    `The picture is ${very(data)}dark: ${usedWords(data.share)} Brightening it brings out grain and steps between the tones.`,
  TOO_PALE: (data: Graded & Share) =>
    `The picture is ${very(data)}pale: ${usedWords(data.share)} Darkening it brings out grain and steps between the tones.`,
  LOW_CONTRAST: (data: Graded) => photoWords.lowContrast(badly(data)),
  BLOCKS: (data: Graded) => photoWords.blocks(badly(data)),
  ALREADY_DITHERED: () => photoWords.dithered,
  SCREENSHOT: () => `${photoWords.screenshot} Check that no bars or buttons are in it.`,
  ARTWORK: ({ severalInks }: { readonly severalInks: boolean }) =>
    `The picture looks like a logo or lettering${severalInks ? " in several colours" : ""}, and is prepared with tones, like a photo.`,
  TRANSPARENT: ({ share }: Share) =>
    `${wholePercent(Math.max(share, 0.01))} of the picture is transparent: what is clear stays bare, and what is half clear becomes paler.`,
  MANY_PAGES: ({ pages }: { readonly pages: number }) => photoWords.pages(pages),
  TEXT_NOT_OUTLINED: () => photoWords.text,
  CROPPED: ({ share }: Share) =>
    `The picture has another shape than the piece, so ${wholePercent(share)} of it is cut off.`,
  STRETCHED: (data: Graded) => photoWords.stretched(badly(data)),
  EXTREME_SHAPE: ({ widthMm, heightMm }: Readonly<Record<"widthMm" | "heightMm", number>>) =>
    `The picture is long and narrow: the piece measures ${sizeMm(widthMm)} × ${sizeMm(heightMm)}.`,
  NOTHING_BURNS: () =>
    "Nothing burns: the picture is of one tone, or what is drawn is too fine for the spot.",
  COLOURS_MERGE: () => "Different colours are about equally light, so they come out alike.",
  PARTS_LOST: ({ share }: Share) =>
    `On ${wholePercent(share)} of the picture, shades are so near each other, so light or so dark that they come out alike. A lower density, or a material with more tones, may keep more.`,
  SHADES_LOST: () => "Shades or fine parts become all or nothing, because the piece has two tones.",
} satisfies Record<FindingCode, (data: never) => string>;

/** A finding in words for the workshop and for the customer. */
export function finding<Code extends FindingCode>(
  code: Code,
  data: Graded & DataOf<(typeof shopWords)[Code]>,
): Finding {
  const words: (data: never) => string = shopWords[code];
  const { grade } = data;
  return { code, grade, message: words(data as never), customer: customerWords({ code, grade, data }), data };
}

/** The most important first. */
export const importance: readonly FindingCode[] = [
  ...(["DAMAGED", "NOTHING_BURNS", "ALREADY_DITHERED", "TEXT_NOT_OUTLINED"] as const),
  ...(["TOO_DARK", "TOO_PALE"] as const),
  ...(["BLURRED", "GRAINY", "TOO_FEW_PIXELS", "LOW_CONTRAST"] as const),
  ...(["BLOCKS", "COLOURS_MERGE", "CROPPED", "STRETCHED", "EXTREME_SHAPE", "PARTS_LOST"] as const),
  ...(["SHADES_LOST", "CLIPPED_SHADOWS", "CLIPPED_HIGHLIGHTS", "ARTWORK", "SCREENSHOT"] as const),
  ...(["MANY_PAGES", "TRANSPARENT"] as const),
];

/** Questions before notes, and of either the most important first; without those that others say better. */
export function inOrder(findings: readonly Finding[]): Finding[] {
  const rank = ({ code, grade }: Finding): number =>
    importance.indexOf(code) + (grade === "ask" ? 0 : importance.length);
  return withoutContradictions(findings).sort((a, b) => rank(a) - rank(b));
}
