import { wholePercent } from "../../core/words.js";

/** A length on the piece, rounded down if it is long: no more than is promised. */
export const wholeMm = (length: number): string =>
  `${length < 20 ? Number(length.toPrecision(2)) : Math.floor(length + 1e-6)} mm`;

/** How far edges spread on the piece: in mm, and over the width of the finest dot. */
export interface Blur {
  readonly blurMm: number;
  readonly blurSpots: number;
}

/** What is wrong with a photo, in the words of the report and of the workshop. */
export const photoWords = {
  blurred: ({ blurMm, blurSpots }: Blur, badly: boolean): string =>
    `The picture is ${badly ? "blurred" : "a little soft"}: on the piece its edges spread over about ${wholeMm(blurMm)}, ${Number(blurSpots.toPrecision(2))} times the finest dot of the engraving.`,
  grainy: (drowned: boolean): string =>
    drowned
      ? "The picture is mostly grain: on the piece the grain is as strong as what the picture shows."
      : "The picture is grainy, and the grain would be engraved too.",
  white: (share: number): string =>
    `${wholePercent(share)} of the picture is pure white and shows no detail.`,
  black: (share: number): string =>
    `${wholePercent(share)} of the picture is pure black and shows no detail.`,
  lowContrast: (badly: boolean): string =>
    badly
      ? "The picture has very little contrast, so there is hardly anything to engrave."
      : "The picture has little contrast. Raising it also brings out grain.",
  blocks: (badly: boolean): string =>
    badly
      ? "The picture was compressed or enlarged so strongly that it has fallen into small squares, and they would be engraved too."
      : "The picture was compressed rather strongly, so faint squares may show in even areas.",
  dithered:
    "The picture is already made of black and white dots. Engraving dots again gives a coarse pattern.",
  screenshot: "The picture looks like a screenshot or a drawing: large parts are perfectly even.",
  pages: (pages: number): string =>
    `The file holds ${pages} pictures or pages, and only the first is engraved.`,
  text: "The drawing contains text that is not converted to outlines. Its font is not here, so letters may come out in another shape or place, or be missing.",
  stretched: (badly: boolean): string =>
    `The picture has another shape than the piece and is stretched to fit it. ${badly ? "Faces and circles will look wrong." : "It will hardly show."}`,
} as const;
