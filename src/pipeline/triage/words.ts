import { type Blur, photoWords, wholeMm } from "../../6-report/words/photo-words.js";
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

/** A size as it was asked for, in tenths of a mm: a piece of whole pixels may be a hair larger or smaller. */
const mm = (length: number): string => `${Number(length.toFixed(1))} mm`;

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
    const largest = wholeMm(told.largestWidthMm);
    return grade === "ask"
      ? `${size} It would look coarse. The pixels are enough for a width of up to ${largest}. Do you have the original picture, straight from the camera or phone? Or shall we engrave it smaller?`
      : `${size} Fine detail will be a little soft. It is fully sharp up to a width of ${largest}. If you have a larger version, please send it.`;
  },
  BLURRED: ({ grade, ...blur }: Graded & Blur) =>
    grade === "ask"
      ? `${photoWords.blurred(blur, true)} Do you have a sharper one, or the original before it was enlarged or sent through a messenger?`
      : `${photoWords.blurred(blur, false)} We can engrave it, but a sharper one would show more.`,
  GRAINY: ({ grade, drowned }: Graded & { readonly drowned: boolean }) =>
    grade === "ask"
      ? `${photoWords.grainy(drowned)} Do you have one that was taken in more light, or the original from the camera or phone?`
      : `${photoWords.grainy(drowned)} A picture that was taken in more light would look cleaner.`,
  CLIPPED_HIGHLIGHTS: ({ share }: Share) =>
    `${photoWords.white(share)} If that is not a plain background, a darker exposure would show more.`,
  CLIPPED_SHADOWS: ({ share }: Share) =>
    `${photoWords.black(share)} If that is not a plain background, a brighter exposure would show more.`,
  TOO_DARK: ({ grade, share }: Graded & Share) =>
    `Your picture is ${grade === "ask" ? "very dark" : "dark"}: ${usedWords(share)} Brightening it brings out grain and steps between the tones. ${brighterWords(grade, "more light")}`,
  TOO_PALE: ({ grade, share }: Graded & Share) =>
    `Your picture is ${grade === "ask" ? "very pale" : "pale"}: ${usedWords(share)} Darkening it brings out grain and steps between the tones. ${brighterWords(grade, "a darker exposure")}`,
  LOW_CONTRAST: ({ grade }: Graded) =>
    grade === "ask"
      ? `${photoWords.lowContrast(true)} Do you have one in better light?`
      : `${photoWords.lowContrast(false)} A picture in better light would look cleaner.`,
  BLOCKS: ({ grade }: Graded) =>
    grade === "ask"
      ? `${photoWords.blocks(true)} Do you have the original, for example from the phone itself instead of a messenger?`
      : `${photoWords.blocks(false)} If you have the original, please send it.`,
  ALREADY_DITHERED: () => `${photoWords.dithered} Do you have the photograph from which it was made?`,
  SCREENSHOT: () =>
    `${photoWords.screenshot} If it shows a photo, please send the photo itself, which holds more detail. And please check that no bars or buttons are in the picture.`,
  ARTWORK: ({ severalInks }: { readonly severalInks: boolean }) =>
    severalInks
      ? "Your picture looks like a logo or lettering in several colours. Each colour gets a tone of its own, made of dots. If all of it should be solid and alike, please tell us."
      : "Your picture looks like a logo or lettering, and we have engraved it with tones, like a photo. If you want it in solid lines, please tell us.",
  TRANSPARENT: () => "Parts of your picture are transparent. They will stay bare.",
  MANY_PAGES: ({ pages }: { readonly pages: number }) => photoWords.pages(pages),
  CROPPED: ({ grade, share }: Graded & Share) =>
    `Your picture has another shape than the piece, so ${wholePercent(share)} of it is cut off. ${grade === "ask" ? "Is that all right, and which part matters most to you?" : "We keep the middle unless you tell us otherwise."}`,
  STRETCHED: ({ grade }: Graded) =>
    `${photoWords.stretched(grade === "ask")}${grade === "ask" ? " Is that all right?" : ""}`,
  EXTREME_SHAPE: ({ grade, widthMm, heightMm }: Graded & Readonly<Record<"widthMm" | "heightMm", number>>) =>
    `Your picture is very long and narrow: the piece will measure ${mm(widthMm)} × ${mm(heightMm)}. ${grade === "ask" ? "Is that what you want?" : "Please tell us if you meant another part of it."}`,
  NOTHING_BURNS: () =>
    "In your picture we found nothing to engrave: it is of one tone, or what is drawn is too fine. Is it the right file?",
  COLOURS_MERGE: () =>
    "Different colours of your picture are about equally light, so they come out alike. Is that all right, or can you send it with one of the colours clearly lighter?",
  PARTS_LOST: ({ share }: Share) =>
    `On ${wholePercent(share)} of your picture, shades are so near each other, so light or so dark that they come out alike. If something important is there, a picture with clearer differences would show it.`,
  SHADES_LOST: () =>
    "Your picture has shades or fine parts that a drawing in two tones cannot keep: they become all or nothing.",
} satisfies Record<FindingCode, (data: never) => string>;

/** A finding in words. */
export function finding<Code extends FindingCode>(
  code: Code,
  data: Graded & DataOf<(typeof customerWords)[Code]>,
): Finding {
  const words: (data: never) => string = customerWords[code];
  return { code, grade: data.grade, message: words(data as never), data };
}

/** The most important first. */
export const importance: readonly FindingCode[] = [
  ...(["DAMAGED", "NOTHING_BURNS", "ALREADY_DITHERED", "TOO_DARK", "TOO_PALE"] as const),
  ...(["BLURRED", "GRAINY", "TOO_FEW_PIXELS", "LOW_CONTRAST"] as const),
  ...(["BLOCKS", "COLOURS_MERGE", "CROPPED", "STRETCHED", "EXTREME_SHAPE", "PARTS_LOST"] as const),
  ...(["SHADES_LOST", "CLIPPED_SHADOWS", "CLIPPED_HIGHLIGHTS", "ARTWORK", "SCREENSHOT"] as const),
  ...(["MANY_PAGES", "TRANSPARENT"] as const),
];

/** Questions before notes, and of either the most important first. Of two findings that say the same, one. */
export function inOrder(findings: readonly Finding[]): Finding[] {
  const has = (...codes: readonly FindingCode[]): boolean =>
    findings.some(({ code }) => codes.includes(code));
  const said = new Set<FindingCode>([
    ...(has("NOTHING_BURNS") ? UNSAID_OF_NOTHING : []),
    ...(has("ARTWORK") ? UNSAID_OF_DRAWINGS : []),
    // The squares of compression are even.
    ...(has("BLOCKS") ? (["SCREENSHOT"] as const) : []),
  ]);
  const rank = ({ code, grade }: Finding): number =>
    importance.indexOf(code) + (grade === "ask" ? 0 : importance.length);
  return findings.filter(({ code }) => !said.has(code)).sort((a, b) => rank(a) - rank(b));
}

/** Its areas are even, and its few tones may be near each other. */
const UNSAID_OF_DRAWINGS: readonly FindingCode[] = ["SCREENSHOT", "BLOCKS", "LOW_CONTRAST", "GRAINY"];

/** What an even picture is as well, and what more pixels would not help. */
const UNSAID_OF_NOTHING: readonly FindingCode[] = [
  "TOO_FEW_PIXELS",
  "TOO_DARK",
  "TOO_PALE",
  "LOW_CONTRAST",
  "CLIPPED_HIGHLIGHTS",
  "CLIPPED_SHADOWS",
  "SCREENSHOT",
  "BLURRED",
  "GRAINY",
  "PARTS_LOST",
];
