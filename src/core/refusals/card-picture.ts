import type { Figures, Texts } from "../told.js";
import { refusedAs } from "./entry.js";

export interface OfPicture {
  readonly file: string;
}

const AGAIN =
  "Lay the card flat, hold the camera straight above it so that the card nearly fills the picture, and take it in even light without glare, shadow or flash.";

/** Pictures of a test card that cannot be read. Each says which check failed, and how to take the picture again. */
export const cardPictureRefusals = {
  ...refusedAs("INPUT_CARD_UNREADABLE", undefined, {
    "card-code-missing": ({ file }: OfPicture) =>
      `The code of a test card cannot be read in "${file}": it is not in the picture, or too small, blurred or covered. ${AGAIN}`,
    "card-of-other-kind": ({ file, text }: OfPicture & Texts<"text">) =>
      `The code in "${file}" is not that of a test card of this version: it says "${text}". Photograph a card made by "spotpitch card" of this version.`,
    "card-not-the-recipe": ({ file, text, wanted }: OfPicture & Texts<"text" | "wanted">) =>
      `"${file}" shows another card than the recipe: its code says "${text}", the recipe "${wanted}". Give the card.json of this card${/ C$/.test(wanted) ? "" : ", or none: the code is enough"}.`,
    "card-frame-missing": ({ file }: OfPicture) =>
      `The frame of the card cannot be followed in "${file}": a part lies outside the picture, is not engraved, is covered or blurred, or the card is bent. ${AGAIN}`,
    "card-for-print": ({ file }: OfPicture) =>
      `The colours of "${file}" are inks (CMYK): its tones were changed for print. Give the picture as the camera or the scanner wrote it.`,
    "card-two-codes": ({ file }: OfPicture) =>
      `There is more than one card in "${file}". Take a picture of each card by itself.`,
    "card-too-few-pixels": ({ file, pxPerMm, wanted }: OfPicture & Figures<"pxPerMm" | "wanted">) =>
      `The card is too small in "${file}": ${pxPerMm.toFixed(1)} pixels to the millimetre, and ${wanted} are needed. Go nearer, so that the card nearly fills the picture.`,
    "card-clipped": ({ file, share }: OfPicture & Figures<"share">) =>
      `The picture "${file}" is exposed too bright or too dark: ${Math.round(100 * share)} % of the patches have parts that are quite white or quite black. Take it again a little darker or brighter, without flash.`,
    "card-blurred": ({ file }: OfPicture) =>
      `The picture "${file}" is blurred: the tones of patches run into the bare gaps between them. Hold the camera still, tap on the card so that it focuses there, and go no nearer than it can focus.`,
    "card-sharpened": ({ file, percent }: OfPicture & Figures<"percent">) =>
      `The picture "${file}" is sharpened: next to the frame the surface is brighter or darker than farther out, by ${percent.toFixed(0)} % of the contrast. That changes the tones of fine patterns. Switch sharpening off in the camera or in the program that saved the picture, and take it again.`,
    "card-uneven-light": ({ file, percent }: OfPicture & Figures<"percent">) =>
      `The light on the card in "${file}" is too uneven: round ${percent.toFixed(0)} % of the patches the bare surface is not as bright as a smooth change of light would make it, or bare and solid patches do not agree. That is a shadow's edge, glare, a thing on the card, or a camera that changes tones from place to place. Take the picture again in even light from the side, with such modes of the camera switched off. If the light was even, solid patches may be charred in parts: engrave the card with less power.`,
    "card-tones-by-place": ({ file }: OfPicture) =>
      `The camera changed tones from place to place in "${file}": the bare surface is brighter or darker where its surroundings are dark. Switch off modes such as HDR, night, portrait and scene optimiser, or use a flatbed scanner, and take the picture again.`,
    "card-not-engraved": ({ file }: OfPicture) =>
      `Bare patches in "${file}" differ from the bare surface between the patches. That is not so on an engraved card: the picture may show the preview of a card, or a program changed its contrast. Photograph the engraved card, and give the picture as the camera wrote it.`,
    "card-patches-unlike": ({ file }: OfPicture) =>
      `The patches in "${file}" do not fit the code of the card: those of one pattern are as unlike as those of different ones. The code is that of another card, the card is spoilt, or its bitmap was changed before it was engraved. Engrave the card anew, with the bitmap as "spotpitch card" wrote it.`,
    "card-too-faint": ({ file }: OfPicture) =>
      `Solid and bare patches look nearly alike in "${file}". Engrave the card with more power, until the solid patches are as dark (or light) as the material gets.`,
    "paper-missing": ({ file }: OfPicture, reader) =>
      `No white paper is seen beside the card in "${file}": an even area brighter than the bare surface, 2 to 15 mm outside the frame, larger than a square centimetre, and not so bright that the picture shows it quite white. Lay white paper flat against the card, take the picture a little darker, or leave ${reader.option("paperLuminance")} out.`,
    "paper-not-alone": ({ file }: OfPicture, reader) =>
      `Beside the card in "${file}" there are two bright areas of unlike brightness, and which of them is the paper of ${reader.option("paperLuminance")} is not clear. Leave nothing bright beside the card but the paper.`,
    "card-brighter-than-white": ({ file, bare, percent }: OfPicture & Figures<"bare" | "percent">, reader) =>
      `By "${file}", marks on a bare surface of luminance factor ${bare.toFixed(2)} would send back ${percent.toFixed(0)} % of the light, which no surface does. So the bare surface is darker than that, or the camera changes tones. Measure the bare surface and give ${reader.option("bareLuminance")}, and give two pictures, the second one or two stops darker, as the camera wrote them.`,
    "card-pictures-none": () => "There is no picture of a card. Give one or more.",
    "card-other-material": ({ material, darkens }: Texts<"material" | "darkens">, reader) =>
      `The card is ${darkens === "true" ? "darker" : "lighter"} where it is solid, and ${material} marks the other way. Give the kind of material that you engraved with ${reader.option("material")}: its colours and its bare surface are the start.`,
    "card-is-check": ({ file }: OfPicture, reader) =>
      `"${file}" shows a check card, which tells whether tones came out right and teaches nothing new. Read it with ${reader.checking()}, or photograph a test card.`,
    "check-recipe-other": ({ file }: OfPicture) =>
      `"${file}" is not the card.json of a check card: it says nothing of what the tones should be. Give the one that was written beside the check card's bitmap.`,
    "check-other-material": ({ material, darkens }: Texts<"material" | "darkens">) =>
      `The card is ${darkens === "true" ? "darker" : "lighter"} where it is solid, and ${material}, for which the check card was made, marks the other way. Engrave the check card on ${material}, or make one for this material.`,
  }),
};
