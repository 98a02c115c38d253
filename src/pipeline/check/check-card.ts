import { createHash } from "node:crypto";
import { createTarget } from "../../5-burn/target.js";
import type { CheckCard } from "../../6-report/check.js";
import { encodePackedBitmap } from "../../6-report/files/bitmap-file.js";
import { encodePreviewPng } from "../../6-report/files/preview-png.js";
import { paintedPicture } from "../../6-report/pictures/page-picture.js";
import { photographSteps } from "../../6-report/words/card-words.js";
import {
  type CheckCardFigures,
  checkCardNotes,
  checkCardSteps,
} from "../../6-report/words/check-card-words.js";
import { cardBitmap } from "../../7-card/card-bitmap.js";
import { cardGrid } from "../../7-card/card-grid.js";
import { type CardSpec, codeText, specOfCode } from "../../7-card/card-spec.js";
import { CHECK_STEPS, type CheckLayout, checkLayout, referencesOf } from "../../7-card/check-layout.js";
import {
  type CheckPromise,
  type CheckRecipe,
  checkRecipe,
  checkRecipeText,
} from "../../7-card/check-recipe.js";
import { generalCautions } from "../../core/material/cautions.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import { libraryReader, type Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { packageVersion } from "../../core/version.js";
import { type CheckCardOptions, resolveCheck } from "../../options/check-options.js";
import { MAX_PIXELS } from "../../options/options.js";
import { predictedRows } from "../burn/predicted-rows.js";
import { burnFigures } from "../card.js";
import { powerToSet } from "../describe/power-to-set.js";
import { painterOf, pieceOnScreen } from "../describe/render-preview.js";
import type { MadePiece } from "../made-piece.js";
import { burnTones, type CheckTones, halftonedTones, stepLuminance } from "./halftoned-tones.js";
import { CHECK_DOSES, predictedSteps } from "./predicted-steps.js";

/** A check card: what to burn, what should come out, and what to do with it. */
export interface MadeCheckCard {
  /** PNG, black burns. */
  readonly burnFile: Uint8Array;
  /** PNG: the card as predicted, in the material's colours. */
  readonly previewFile: Uint8Array;
  /** Where every patch lies, and what it should show. Its reader needs it. */
  readonly recipe: CheckRecipe;
  /** The text of the recipe's file, `card.json`. */
  readonly recipeFile: string;
  readonly card: CheckCard;
}

/** What does not change the tones. */
export interface CheckCardContext {
  /** The file of a photo to show beside the wedge; default: a built-in picture. */
  readonly photo?: Uint8Array | undefined;
  readonly fileName?: string | undefined;
  /** Who reads the words. Default: a programmer who calls the library. */
  readonly reader?: Reader | undefined;
}

/**
 * A card to see whether a material file and a machine file hold: a wedge of thirteen tones and a small photo, prepared with them
 * as `prepare` would at the density of a job.
 *
 * @throws SpotpitchError with an `OPTION_*` code for a bad option or a card that is too small, `INPUT_*` for a photo that cannot be
 * used
 */
export async function checkCard(
  options: CheckCardOptions = {},
  { photo, fileName, reader = libraryReader }: CheckCardContext = {},
): Promise<MadeCheckCard> {
  const asked = resolveCheck(options);
  const { material } = asked.resolved;
  const { darkens } = material.curve;
  // Only the code depends on the seed, and every seed is as long.
  const before = checkLayout(specOf(asked, LEAST_SEED));
  const tones = await halftonedTones(before, { job: asked.job, photo, fileName }, darkens);
  const layout = checkLayout({ ...before.spec, seed: fingerprint(tones) });
  const bitmap = cardBitmap({ ...layout, patches: referencesOf(layout) });
  burnTones(bitmap, layout, tones);
  const promise = promiseOf(tones.wedge, bitmap, layout);
  const recipe = checkRecipe(layout, promise);
  const figures = figuresOf(
    asked,
    recipe,
    bitmap,
    reader,
    photo === undefined ? "" : (fileName ?? "your photo"),
  );
  return {
    burnFile: await encodePackedBitmap(bitmap, layout.grid.pitch, "png"),
    previewFile: await previewOf(tones.wedge, bitmap),
    recipe,
    recipeFile: checkRecipeText(recipe),
    card: {
      tool: { name: "spotpitch", version: packageVersion() },
      units: reader.units,
      ...figures,
      steps: checkCardSteps(figures, reader),
      photograph: photographSteps,
      notes: checkCardNotes(figures, reader),
      cautions: [...material.hazards, ...generalCautions],
    },
  };
}

type Asked = ReturnType<typeof resolveCheck>;

/** Seeds of a check card have four digits. Nothing is scattered: the seed tells cards with other tones apart. */
const LEAST_SEED = 1000;
const SEEDS = 9000;

/** The card as its code tells it. Throws `OPTION_TOO_LARGE` for too many pixels. */
function specOf({ sizeMm, resolved }: Asked, seed: number): CardSpec {
  const { pitch, levels, oneWay } = resolved;
  const asked: CardSpec = {
    ...{ ...sizeMm, levels, seed, oneWay, isCheck: true },
    linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
    linesPerInchAlong: linesPerInchFromPitchMm(pitch.alongMm),
  };
  const spec = specOfCode(codeText(asked)) ?? asked;
  const { columns, rows } = cardGrid(spec);
  if (columns * rows > MAX_PIXELS) throw refusal("too-many-pixels", { columns, rows, maxPixels: MAX_PIXELS });
  return spec;
}

/** A number of four digits that differs from card to card with the bits of its tones. */
function fingerprint({ wedge, photo }: CheckTones): number {
  const hash = createHash("sha256");
  for (const { burned } of [wedge, photo]) if (burned.bitmap) hash.update(burned.bitmap.bytes);
  return LEAST_SEED + (hash.digest().readUInt32BE(0) % SEEDS);
}

function promiseOf(
  { job, method }: MadePiece,
  bitmap: PackedBitmap,
  layout: CheckLayout,
): Omit<CheckPromise, "code" | "linesPerInch"> {
  const { model, options } = job;
  const predicted = predictedSteps(job, bitmap, layout);
  const step = (name: string, wanted: number) => ({ name, wanted, predicted: predicted.get(name) ?? [] });
  const wanted = createTarget(options.toneMap, model.range);
  const numbers = Array.from({ length: CHECK_STEPS }, (_, k) => k + 1);
  return {
    material: options.material.name,
    bareLuminance: model.bare,
    method: method.id,
    doses: [...CHECK_DOSES],
    steps: [
      ...numbers.map((k) => step(`tone-${k}`, wanted(stepLuminance(k, model.response.darkens)))),
      step("solid", model.solid),
    ],
  };
}

function figuresOf(
  { resolved, isSpeedGiven }: Asked,
  recipe: CheckRecipe,
  bitmap: PackedBitmap,
  reader: Reader,
  photo: string,
): CheckCardFigures {
  const { material, spot, speedMmPerS, passes, fullTone, pitch } = resolved;
  const { widthMm, heightMm, columns, rows, linesPerInch, levels, oneWay, code, method } = recipe;
  const power = powerToSet({ material, pitchMm: pitch.acrossMm, speedMmPerS, passes, fullTone }, reader);
  return {
    job: {
      material: material.name,
      materialSource: material.source,
      marksGrow: material.curve.darkens ? "darker" : "lighter",
      ...{ widthMm, heightMm, columns, rows, linesPerInch },
      linesPerInchAlong: linesPerInchFromPitchMm(recipe.pitchAlongMm),
      ...{ spotAlongMm: spot.alongMm, spotAcrossMm: spot.acrossMm },
      ...{ levels, oneWay, method, photo, speedMmPerS, isSpeedGiven },
      isMeasured: /^measured\b/i.test(material.source),
      power: power.message,
      code,
    },
    tones: recipe.steps.map(({ name, wanted, predicted }) => ({
      ...{ name, wanted, predicted: predicted[recipe.doses.indexOf(1)] },
      patches: recipe.patches.filter(({ pattern }) => pattern === name).length,
    })),
    ...burnFigures(bitmap, resolved),
  };
}

/** The whole card as predicted. */
async function previewOf({ job, picture }: MadePiece, bitmap: PackedBitmap): Promise<Uint8Array> {
  const rows = predictedRows(job, bitmap, picture.frame);
  const screen = pieceOnScreen(job, bitmap, picture.frame, rows);
  return encodePreviewPng(paintedPicture(screen.values, screen.columns, screen.rows, painterOf(job)));
}
