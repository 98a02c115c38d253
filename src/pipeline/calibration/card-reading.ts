import { decodePhoto } from "../../1-photo/decode.js";
import { type CardSpec, specOfCode } from "../../7-card/card-spec.js";
import { cardLayout } from "../../7-card/layout.js";
import { type CardRecipe, cardRecipe, type MarkedCard } from "../../7-card/recipe.js";
import { type CardView, inPicture } from "../../7-card-picture/card-view.js";
import { evenLight } from "../../7-card-picture/even-light.js";
import { findCode } from "../../7-card-picture/find-code.js";
import type { LightPlane } from "../../7-card-picture/light-plane.js";
import { locate } from "../../7-card-picture/locate.js";
import { measurePatches } from "../../7-card-picture/measure.js";
import { linearFromSrgb } from "../../core/physics/transfer.js";
import { denseData, type Pitch } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";

/** What one picture of a card says. */
export interface CardReading<Recipe extends MarkedCard = CardRecipe> {
  readonly file: string;
  readonly spec: CardSpec;
  readonly recipe: Recipe;
  readonly picture: LightPlane;
  readonly view: CardView;
  /** By patch of the recipe: luminance as a share of the bare surface's. */
  readonly overBare: Float64Array;
  readonly solidOverBare: number;
  /** Of ln luminance at the references, after the light was made even. */
  readonly evenness: number;
  readonly pxPerMm: number;
}

/** A patch needs some twenty pixels to a side, or blur reaches its middle. */
const LEAST_PX_PER_MM = 8;
/** The frame stands out by so much of the contrast between solid and bare, on each side. */
const LEAST_STRENGTH = 0.3;
/** Its middle line lies on the fitted sides within this. */
const MOST_RESIDUAL_MM = 0.12;
/** Share of places of a patch beyond what the picture can show, and share of such patches. */
const [MOST_CLIPPED_PLACES, MOST_CLIPPED_PATCHES] = [0.05, 0.1];
const MOST_UNEVEN = 0.08;
/** Solid and bare differ by so much in ln luminance. */
const LEAST_CONTRAST = 0.25;

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
  const code = await findCode(picture);
  if (!code) throw refusal("card-code-missing", { file });
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
  return { file, spec, recipe, picture, view, pxPerMm, ...relativeLuminance(picture, view, recipe, file) };
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

function relativeLuminance(picture: LightPlane, view: CardView, recipe: MarkedCard, file: string) {
  const periods = periodsOf(recipe);
  const measured = measurePatches(
    picture,
    view,
    recipe.patches.map((patch) => ({ ...patch, periodMm: periods.get(patch.pattern) })),
  );
  const clipped =
    measured.filter((patch) => !(patch.clipped <= MOST_CLIPPED_PLACES)).length / measured.length;
  if (clipped > MOST_CLIPPED_PATCHES) throw refusal("card-clipped", { file, share: clipped });
  const places = recipe.patches.map(({ leftMm, topMm, widthMm, heightMm }) => ({
    x: (2 * leftMm + widthMm) / recipe.widthMm - 1,
    y: (2 * topMm + heightMm) / recipe.heightMm - 1,
  }));
  const references = recipe.patches.flatMap(({ pattern }, k) =>
    pattern === "bare" || pattern === "solid"
      ? [{ ...places[k], light: measured[k].light, isSolid: pattern === "solid" }]
      : [],
  );
  const even = evenLight(references);
  if (even.residual > MOST_UNEVEN) throw refusal("card-uneven-light", { file, percent: 100 * even.residual });
  if (Math.abs(Math.log(even.solidOverBare)) < LEAST_CONTRAST) throw refusal("card-too-faint", { file });
  return {
    overBare: Float64Array.from(places, ({ x, y }, k) => measured[k].light / even.bareAt(x, y)),
    solidOverBare: even.solidOverBare,
    evenness: even.residual,
  };
}

/** After what length patterns repeat. Halftones of a check card do not. */
function periodsOf(recipe: MarkedCard & Partial<Pick<CardRecipe, "patterns">>): Map<string, Pitch> {
  const { patterns = {}, levels, oneWay, pitchAlongMm, pitchAcrossMm } = recipe;
  return new Map(
    Object.entries(patterns).map(([name, { tile }]) => {
      const columns = levels === 2 ? tile[0].length : tile[0].split(".").length;
      // Of an odd number of rows, the first runs the other way in the next tile.
      const rows = oneWay || tile.length % 2 === 0 ? tile.length : 2 * tile.length;
      return [name, { alongMm: columns * pitchAlongMm, acrossMm: rows * pitchAcrossMm }];
    }),
  );
}
