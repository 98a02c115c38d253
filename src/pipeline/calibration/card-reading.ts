import { decodePhoto } from "../../1-photo/decode.js";
import { type CardSpec, specOfCode } from "../../7-card/card-spec.js";
import { cardLayout } from "../../7-card/layout.js";
import { type CardRecipe, cardRecipe, type MarkedCard } from "../../7-card/recipe.js";
import { type CardView, inPicture } from "../../7-card-picture/card-view.js";
import { findCodes } from "../../7-card-picture/find-code.js";
import type { LightPlane } from "../../7-card-picture/light-plane.js";
import { locate } from "../../7-card-picture/locate.js";
import { linearFromSrgb } from "../../core/physics/transfer.js";
import { denseData } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";
import { cameraFacts } from "./camera-facts.js";
import { type FoundCard, type PatchLuminance, patchLuminance } from "./patch-luminance.js";

/** What one picture of a card says. */
export interface CardReading<Recipe extends MarkedCard = CardRecipe>
  extends FoundCard<Recipe>,
    PatchLuminance {
  readonly spec: CardSpec;
  readonly pxPerMm: number;
  /** Ln exposure in any unit, by the camera's word. */
  readonly lnExposure: number | undefined;
}

/** A patch needs some twenty pixels to a side, or blur reaches its middle. */
const LEAST_PX_PER_MM = 8;
/** The frame stands out by so much of the contrast between solid and bare, on each side. */
const LEAST_STRENGTH = 0.3;
/** Its middle line lies on the fitted sides within this. */
const MOST_RESIDUAL_MM = 0.12;

/**
 * Read a picture of a test card. Throws `INPUT_CARD_UNREADABLE` naming the check that failed, and what `decodePhoto` throws.
 *
 * @param wanted the text of the code that the card must have; default: any card
 */
export const readCard = (bytes: Uint8Array, file: string, wanted?: string): Promise<CardReading> =>
  readMarkedCard({ bytes, file, wanted }, (spec) => {
    if (spec.isCheck) throw refusal("card-is-check", { file });
    return cardRecipe(cardLayout(spec));
  });

/** A picture of a card, and the text of the code that it must have, if only one will do. */
export interface CardInPicture {
  readonly bytes: Uint8Array;
  readonly file: string;
  readonly wanted?: string | undefined;
}

/** The same for a card of any kind: its patches are where `recipeOf` says. */
export async function readMarkedCard<Recipe extends MarkedCard>(
  { bytes, file, wanted }: CardInPicture,
  recipeOf: (spec: CardSpec) => Recipe,
): Promise<CardReading<Recipe>> {
  const picture = lightOf(await decodePhoto(bytes, { fileName: file }));
  const { lnExposure, isForPrint } = await cameraFacts(bytes);
  if (isForPrint) throw refusal("card-for-print", { file });
  const codes = await findCodes(picture);
  if (codes.length === 0) throw refusal("card-code-missing", { file });
  const cards = codes.filter(({ text }) => specOfCode(text));
  if (cards.length > 1) throw refusal("card-two-codes", { file });
  const [code] = [...cards, ...codes];
  const spec = specOfCode(code.text);
  if (!spec) throw refusal("card-of-other-kind", { file, text: code.text });
  if (wanted !== undefined && wanted !== code.text) {
    throw refusal("card-not-the-recipe", { file, text: code.text, wanted });
  }
  const recipe = recipeOf(spec);
  const [corner] = recipe.corners;
  const marks = { ...recipe, cornerMm: corner.place.widthMm };
  const { view, sides } = locate(picture, marks, code.corners);
  if (
    sides.some(({ strength, residualMm }) => strength < LEAST_STRENGTH || !(residualMm < MOST_RESIDUAL_MM))
  ) {
    throw refusal("card-frame-missing", { file });
  }
  const pxPerMm = pixelsPerMm(view, recipe);
  if (pxPerMm < LEAST_PX_PER_MM)
    throw refusal("card-too-few-pixels", { file, pxPerMm, wanted: LEAST_PX_PER_MM });
  const card = { file, picture, view, recipe };
  return { ...card, spec, pxPerMm, lnExposure, ...patchLuminance(card) };
}

/** The recipe that a card's code stands for. */
export function recipeOfCode(code: string): CardRecipe {
  const spec = specOfCode(code);
  if (!spec) throw refusal("card-of-other-kind", { file: "", text: code });
  return cardRecipe(cardLayout(spec));
}

function lightOf({ luminance }: Awaited<ReturnType<typeof decodePhoto>>): LightPlane {
  const codes = denseData(luminance);
  const [rows, columns] = luminance.pixels.shape;
  const table = Float32Array.from({ length: 65536 }, (_, code) => linearFromSrgb(code / 65535));
  const light = new Float32Array(codes.length);
  for (let i = 0; i < codes.length; i++) light[i] = table[codes[i]];
  return { columns, rows, light };
}

/** Pixels of the picture to a mm, where the card is smallest. */
function pixelsPerMm(view: CardView, { widthMm, heightMm }: MarkedCard): number {
  const scales = [0.05, 0.95].flatMap((x) =>
    [0.05, 0.95].flatMap((y) => {
      const here = inPicture(view, [x * widthMm, y * heightMm]);
      const [right, below] = [
        inPicture(view, [x * widthMm + 1, y * heightMm]),
        inPicture(view, [x * widthMm, y * heightMm + 1]),
      ];
      return [right, below].map((place) => Math.hypot(place[0] - here[0], place[1] - here[1]));
    }),
  );
  return Math.min(...scales);
}
