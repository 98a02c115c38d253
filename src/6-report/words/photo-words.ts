import { wholePercent } from "../../core/words.js";

/** A length on the piece, rounded down if it is long: no more than is promised. */
export const wholeMm = (length: number): string =>
  `${length < 20 ? Number(length.toPrecision(2)) : Math.floor(length + 1e-6)} mm`;

/** How far edges spread on the piece: in mm, and over the width of the finest dot. */
export interface Blur {
  readonly blurMm: number;
  readonly blurSpots: number;
}

/** What is wrong with a photo, in the words that customers and users of the tool read alike. */
export const photoWords = {
  blurred: ({ blurMm, blurSpots }: Blur, badly: boolean): string =>
    `Your picture is ${badly ? "blurred" : "a little soft"}: on the piece its edges spread over about ${wholeMm(blurMm)}, ${Number(blurSpots.toPrecision(2))} times the finest dot of the engraving.`,
  grainy: (drowned: boolean): string =>
    drowned
      ? "Your picture is mostly grain: on the piece the grain is as strong as what the picture shows."
      : "Your picture is grainy, and the grain would be engraved too.",
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
      ? "Your picture was compressed or enlarged so strongly that it has fallen into small squares, and they would be engraved too."
      : "Your picture was compressed rather strongly, so faint squares may show in even areas.",
  dithered:
    "Your picture is already made of black and white dots. Engraving dots again gives a coarse pattern.",
  screenshot: "Your picture looks like a screenshot or a drawing: large parts are perfectly even.",
  pages: (pages: number): string =>
    `Your file holds ${pages} pictures or pages, and only the first is engraved.`,
  stretched: (badly: boolean): string =>
    `Your picture has another shape than the piece and is stretched to fit it. ${badly ? "Faces and circles will look wrong." : "It will hardly show."}`,
} as const;
