import { wholePercent } from "../../core/words.js";
import type { Finding, TriageFigures } from "./findings.js";

type Worth = "note" | "ask";

const mm = (length: number): string =>
  `${length < 20 ? Number(length.toPrecision(2)) : Math.floor(length + 1e-6)} mm`;

/** Every finding in words that can be sent to a customer: what we see, what it means for the piece, what would help. */
export const messages = {
  damaged: (): Finding => ({
    code: "DAMAGED",
    grade: "ask",
    message:
      "Your picture seems to have been damaged on its way to us: parts of it may be smeared, shifted or of a wrong tone. Could you send the file once more?",
  }),
  tooFewPixels: (
    grade: Worth,
    { widthPx, heightPx, largestWidthMm, pxPerMm, neededPxPerMm }: TriageFigures,
    widthMm: number,
  ): Finding => ({
    code: "TOO_FEW_PIXELS",
    grade,
    message:
      `Your picture has ${widthPx} × ${heightPx} pixels. At a width of ${mm(widthMm)} that is ${pxPerMm.toFixed(1)} for each millimetre, where the engraving shows ${neededPxPerMm.toFixed(1)}; ` +
      (grade === "ask"
        ? `it would look coarse. It is fine enough for a width of up to ${mm(largestWidthMm)}. Do you have the original picture, straight from the camera or phone? Or shall we engrave it smaller?`
        : `fine detail will be a little soft. It is fully sharp up to a width of ${mm(largestWidthMm)}. If you have a larger version, please send it.`),
  }),
  blurred: (grade: Worth, blurMm: number): Finding => ({
    code: "BLURRED",
    grade,
    message:
      grade === "ask"
        ? `Your picture is blurred: on the piece even its sharpest edges would spread over ${mm(blurMm)}. Do you have a sharper one, or the original before it was enlarged or sent through a messenger?`
        : `Your picture is a little soft: on the piece its sharpest edges spread over ${mm(blurMm)}. We can engrave it; a sharper one would show more.`,
  }),
  highlights: (share: number): Finding => ({
    code: "CLIPPED_HIGHLIGHTS",
    grade: "note",
    message: `${wholePercent(share)} of your picture is pure white, where no detail is left. If that is not a plain background, a less bright exposure would show more.`,
  }),
  shadows: (share: number): Finding => ({
    code: "CLIPPED_SHADOWS",
    grade: "note",
    message: `${wholePercent(share)} of your picture is pure black, where no detail is left. If that is not a plain background, a brighter exposure would show more.`,
  }),
  lowContrast: (grade: Worth): Finding => ({
    code: "LOW_CONTRAST",
    grade,
    message:
      grade === "ask"
        ? "Your picture has very little contrast, so that there is hardly anything to engrave. Do you have one in better light?"
        : "Your picture has little contrast. We raise it, which also brings out grain; a picture in better light would look cleaner.",
  }),
  blocks: (grade: Worth): Finding => ({
    code: "JPEG_BLOCKS",
    grade,
    message:
      grade === "ask"
        ? "Your picture was compressed so strongly that it has fallen into small squares, and they would be engraved too. Do you have the original, for example from the phone itself instead of a messenger?"
        : "Your picture was compressed rather strongly; faint squares may show in even areas. If you have the original, please send it.",
  }),
  nothingBurns: (): Finding => ({
    code: "NOTHING_BURNS",
    grade: "ask",
    message:
      "In your picture we found nothing to engrave: it is of one tone, or what is drawn is too fine. Is it the right file?",
  }),
  shadesLost: (): Finding => ({
    code: "SHADES_LOST",
    grade: "note",
    message:
      "Your picture has shades or fine parts that a drawing in two tones cannot keep: they become all or nothing.",
  }),
  alreadyDithered: (): Finding => ({
    code: "ALREADY_DITHERED",
    grade: "ask",
    message:
      "Your picture is already made of black and white dots. Engraving dots again gives a coarse pattern. Do you have the photograph from which it was made?",
  }),
  screenshot: (): Finding => ({
    code: "SCREENSHOT",
    grade: "note",
    message:
      "Your picture looks like a screenshot or a drawing: large parts are perfectly even. If it shows a photo, please send the photo itself, which holds more detail; and please check that no bars or buttons are in the picture.",
  }),
  artwork: (): Finding => ({
    code: "ARTWORK",
    grade: "note",
    message:
      "Your picture looks like a logo or lettering, and we have engraved it with tones, like a photo. If it should come out in solid lines, please tell us.",
  }),
  transparent: (): Finding => ({
    code: "TRANSPARENT",
    grade: "note",
    message: "Parts of your picture are transparent. They will stay bare.",
  }),
  manyPages: (pages: number): Finding => ({
    code: "MANY_PAGES",
    grade: "note",
    message: `Your file holds ${pages} pictures or pages. We take the first.`,
  }),
  cropped: (grade: Worth, lost: number): Finding => ({
    code: "CROPPED",
    grade,
    message: `Your picture has another shape than the piece, so that ${wholePercent(lost)} of it is cut off. ${grade === "ask" ? "Is that all right, and which part matters most to you?" : "We keep the middle unless you tell us otherwise."}`,
  }),
  stretched: (grade: Worth): Finding => ({
    code: "STRETCHED",
    grade,
    message: `Your picture has another shape than the piece and will be stretched to fit it. ${grade === "ask" ? "Faces and circles will look wrong: is that all right?" : "It will hardly show."}`,
  }),
  extremeShape: (
    grade: Worth,
    { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  ): Finding => ({
    code: "EXTREME_SHAPE",
    grade,
    message: `Your picture is very long and narrow: the piece will measure ${mm(widthMm)} × ${mm(heightMm)}. ${grade === "ask" ? "Is that what you want?" : "Please tell us if you meant another part of it."}`,
  }),
} as const;
