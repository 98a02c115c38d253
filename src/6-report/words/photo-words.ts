import { wholePercent } from "../../core/words.js";

/** A length on the piece, rounded down if it is long: no more than is promised. */
export const wholeMm = (length: number): string =>
  `${length < 20 ? Number(length.toPrecision(2)) : Math.floor(length + 1e-6)} mm`;

/** What is wrong with a photo, in the words that customers and users of the tool read alike. */
export const photoWords = {
  blurred: (blurMm: number, badly: boolean): string =>
    badly
      ? `Your picture is blurred: on the piece even its sharpest edges would spread over ${wholeMm(blurMm)}.`
      : `Your picture is a little soft: on the piece its sharpest edges spread over ${wholeMm(blurMm)}.`,
  white: (share: number): string =>
    `${wholePercent(share)} of your picture is pure white and shows no detail.`,
  black: (share: number): string =>
    `${wholePercent(share)} of your picture is pure black and shows no detail.`,
  lowContrast: (badly: boolean): string =>
    badly
      ? "Your picture has very little contrast, so there is hardly anything to engrave."
      : "Your picture has little contrast. Raising it also brings out grain.",
  blocks: (badly: boolean): string =>
    badly
      ? "Your picture was compressed so strongly that it has fallen into small squares, and they would be engraved too."
      : "Your picture was compressed rather strongly, so faint squares may show in even areas.",
  dithered:
    "Your picture is already made of black and white dots. Engraving dots again gives a coarse pattern.",
  screenshot: "Your picture looks like a screenshot or a drawing: large parts are perfectly even.",
  pages: (pages: number): string =>
    `Your file holds ${pages} pictures or pages, and only the first is engraved.`,
  text: "Your drawing contains text that is not converted to outlines. Its font is not here, so letters may come out in another shape or place, or be missing.",
  stretched: (badly: boolean): string =>
    `Your picture has another shape than the piece and is stretched to fit it. ${badly ? "Faces and circles will look wrong." : "It will hardly show."}`,
} as const;
