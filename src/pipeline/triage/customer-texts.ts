import { wholeMm } from "../../6-report/words/photo-words.js";
import { wholePercent } from "../../core/words.js";
import type { Finding } from "./findings.js";

/**
 * What the workshop writes to a customer about a finding: what we see and what it means for the piece, then what would help, in one or
 * two sentences. Only what a customer can do is asked for. A name in braces stands for a figure of the picture. The key is the
 * finding's code, and after a dot its grade or case where the words differ.
 */
export const findingTexts = {
  DAMAGED: "Your picture seems to have been damaged on its way to us. Could you send the file once more?",
  "TOO_FEW_PIXELS.ask":
    "Your picture has {pixelsWide} × {pixelsHigh} pixels, and a piece {width} wide would look coarse. Do you have the original from the camera or phone, or shall we engrave it up to {largestWidth} wide?",
  "TOO_FEW_PIXELS.note":
    "Your picture has {pixelsWide} × {pixelsHigh} pixels, so fine detail will be a little soft on a piece {width} wide. If you have a larger version, please send it.",
  "BLURRED.ask":
    "Your picture is blurred: on the piece its edges would spread over {blur}. Do you have a sharper one, or the original before it was enlarged or sent through a messenger?",
  "BLURRED.note": "Your picture is a little soft. We can engrave it, but a sharper one would show more.",
  "GRAINY.ask":
    "Your picture is so grainy that the grain would be engraved too. Do you have one that was taken in more light, or the original from the camera or phone?",
  "GRAINY.note":
    "Your picture is grainy, and some of the grain will show on the piece. If you have one that was taken in more light, please send it.",
  CLIPPED_HIGHLIGHTS:
    "{share} of your picture is pure white and will show no detail. If something important is there, please send a version in which it can be seen.",
  CLIPPED_SHADOWS:
    "{share} of your picture is pure black and will show no detail. If something important is there, please send a version in which it can be seen.",
  "TOO_DARK.ask":
    "Your picture is very dark: it uses only {share} of the tones between black and white. Do you have a brighter version of it, or the original from the camera or phone?",
  "TOO_DARK.note":
    "Your picture is dark, and brightening it brings out grain. If you have a brighter version, please send it.",
  "TOO_PALE.ask":
    "Your picture is very pale: it uses only {share} of the tones between black and white. Do you have a darker version of it, or the original from the camera or phone?",
  "TOO_PALE.note":
    "Your picture is pale, and darkening it brings out grain. If you have a darker version, please send it.",
  "LOW_CONTRAST.ask":
    "Your picture has very little contrast, so there is hardly anything to engrave. Do you have a version with stronger contrast, or the original from the camera or phone?",
  "LOW_CONTRAST.note":
    "Your picture has little contrast, and raising it also brings out grain. If you have a version with stronger contrast, please send it.",
  "BLOCKS.ask":
    "Your picture was compressed so strongly that small squares would be engraved too. Do you have the original, for example from the phone itself instead of a messenger?",
  "BLOCKS.note":
    "Your picture was compressed rather strongly, so faint squares may show in even areas. If you have the original, please send it.",
  ALREADY_DITHERED:
    "Your picture is already made of black and white dots, and would get a coarse pattern. Do you have the photograph from which it was made?",
  SCREENSHOT:
    "Your picture looks like a screenshot. If it shows a photo, please send the photo itself, which holds more detail.",
  "ARTWORK.one-ink":
    "Your picture looks like a logo or lettering, and we would engrave it with tones, like a photo. If you want it in solid lines, please tell us.",
  "ARTWORK.several-inks":
    "Your picture looks like a logo or lettering in several colours, and each colour gets a tone of its own. If all of it should be solid and alike, please tell us.",
  TRANSPARENT: "Parts of your picture are transparent, and will be paler or stay bare on the piece.",
  MANY_PAGES:
    "Your file holds {pages} pictures or pages, and we engrave the first. If you meant another one, please tell us.",
  TEXT_NOT_OUTLINED:
    "Your drawing contains text, and without its font letters may come out in another shape or place. Please convert all text to outlines (also called paths or curves) and send the file again.",
  "CROPPED.ask":
    "Your picture has another shape than the piece, so {share} of it would be cut off. Is that all right, and which part matters most to you?",
  "CROPPED.note":
    "Your picture has another shape than the piece, so {share} of it is cut off. We keep the middle unless you tell us otherwise.",
  "STRETCHED.ask":
    "Your picture has another shape than the piece, and stretched to fit it, faces and circles would look wrong. Is that all right?",
  "STRETCHED.note": "Your picture has another shape than the piece, and is stretched a little to fit it.",
  "EXTREME_SHAPE.ask":
    "Your picture is very long and narrow: the piece would measure {width} × {height}. Is that what you want?",
  "EXTREME_SHAPE.note":
    "Your picture is long and narrow: the piece will measure {width} × {height}. Please tell us if you meant another part of it.",
  NOTHING_BURNS:
    "In your picture we found nothing to engrave: it is of one tone, or what is drawn is too fine. Is it the right file?",
  COLOURS_MERGE:
    "Different colours of your picture are about equally light, so they come out alike. Is that all right, or can you send it with one of the colours clearly lighter?",
  PARTS_LOST:
    "On {share} of your picture, shades are so near each other that they come out alike. If something important is there, please send a version with clearer differences.",
  SHADES_LOST:
    "Your picture has shades or fine parts that a drawing in two tones cannot keep: they become all or nothing.",
} as const;

/** Texts by key. */
export type Texts<Key extends string = string> = Readonly<Record<Key, string>>;
/** In place of the point between digits, where a language writes it otherwise. */
export const DECIMAL_POINT = "DECIMAL_POINT";

/** A size as it was asked for, in tenths of a mm: a piece of whole pixels may be a hair larger or smaller. */
export const sizeMm = (length: number): string => `${Number(length.toFixed(1))} mm`;

/** Names in braces: the figure of the finding, and how it is written. */
const VALUES: Readonly<Record<string, readonly [figure: string, write: (value: number) => string]>> = {
  pixelsWide: ["widthPx", String],
  pixelsHigh: ["heightPx", String],
  width: ["widthMm", sizeMm],
  height: ["heightMm", sizeMm],
  largestWidth: ["largestWidthMm", wholeMm],
  blur: ["blurMm", wholeMm],
  share: ["share", wholePercent],
  pages: ["pages", String],
};

const PLACEHOLDER = /\{([^{}]*)\}/g;

/** The names in braces of a text. */
export const placeholders = (text: string): Set<string> =>
  new Set([...text.matchAll(PLACEHOLDER)].map(([, name]) => name));

/** A finding in the words for its customer. */
export function customerWords(
  { code, grade, data }: Pick<Finding, "code" | "grade" | "data">,
  texts: Texts = findingTexts,
): string {
  const figures: Readonly<Record<string, unknown>> = { ...data };
  const drawn = figures.severalInks === true ? "several-inks" : "one-ink";
  const text = texts[`${code}.${grade}`] ?? texts[code] ?? texts[`${code}.${drawn}`] ?? "";
  const point = texts[DECIMAL_POINT] ?? ".";
  return text.replace(PLACEHOLDER, (whole, name: string) => {
    const [figure, write] = VALUES[name] ?? [];
    const value = figure === undefined ? undefined : figures[figure];
    return typeof value === "number" && write ? write(value).replace(/(?<=\d)\.(?=\d)/, point) : whole;
  });
}
