import { RunTimer } from "../5-burn/run-time.js";
import type { TestCard } from "../6-report/card.js";
import { encodePackedBitmap } from "../6-report/files/bitmap-file.js";
import { encodePreviewPng } from "../6-report/files/preview-png.js";
import { type CardFigures, cardNotes, cardPhotographSteps, cardSteps } from "../6-report/words/card-words.js";
import { cardBitmap } from "../7-card/card-bitmap.js";
import { cardGrid } from "../7-card/card-grid.js";
import { type CardSpec, codeText, specOfCode } from "../7-card/card-spec.js";
import { type CardLayout, cardLayout } from "../7-card/layout.js";
import { type CardRecipe, cardRecipe, recipeText } from "../7-card/recipe.js";
import { generalCautions } from "../core/material/cautions.js";
import type { PackedBitmap } from "../core/packed-bits.js";
import { libraryReader, type Reader } from "../core/reader.js";
import { refusal } from "../core/refusals/refusals.js";
import { packageVersion } from "../core/version.js";
import { type CardOptions, resolveCard } from "../options/card-options.js";
import { MAX_PIXELS, type ResolvedOptions } from "../options/options.js";
import { cardContents, cardGroups } from "./describe/card-contents.js";
import { pictureOfCard } from "./describe/card-preview.js";

/** A test card: what to burn, what is on it, and what to do with it. */
export interface MadeTestCard {
  /** PNG, black burns. */
  readonly burnFile: Uint8Array;
  /** PNG: the card as it may come out, with the number of its pattern in each patch. */
  readonly previewFile: Uint8Array;
  /** Where every patch lies, and its pattern. All of it follows from the code on the card. */
  readonly recipe: CardRecipe;
  /** The text of the recipe's file, `card.json`. */
  readonly recipeFile: string;
  readonly card: TestCard;
}

/**
 * A card to engrave and photograph: some four hundred small patches of known patterns, from whose tones the response of the
 * material and the spot and the timing of the machine can be found.
 *
 * @param reader of the words; default: a programmer who calls the library
 * @throws SpotpitchError with an `OPTION_*` code for a bad option, and for a card that is too small or too coarse
 */
export async function testCard(
  options: CardOptions = {},
  reader: Reader = libraryReader,
): Promise<MadeTestCard> {
  const asked = resolveCard(options);
  const { resolved } = asked;
  const layout = cardLayout(specOf(asked));
  const bitmap = cardBitmap(layout);
  const recipe = cardRecipe(layout);
  const groups = cardGroups(layout);
  const { burnFraction, runTime } = burnFigures(bitmap, resolved);
  const figures: CardFigures = {
    job: jobOf(asked, options, layout),
    contents: cardContents(layout, burnFraction),
    runTime,
  };
  const card = {
    tool: { name: "spotpitch", version: packageVersion() },
    units: reader.units,
    ...figures,
    groups,
    steps: cardSteps(figures, reader),
    photograph: cardPhotographSteps(reader),
    notes: cardNotes(figures, reader),
    cautions: [...resolved.material.hazards, ...generalCautions],
  } as const;
  return {
    burnFile: await encodePackedBitmap(bitmap, layout.grid.pitch, "png"),
    previewFile: await encodePreviewPng(pictureOfCard(layout, groups, resolved)),
    recipe,
    recipeFile: recipeText(recipe),
    card,
  };
}

type Asked = ReturnType<typeof resolveCard>;

/** The card as its code tells it: rounded as it is written there. Throws what `checkCard` throws. */
function specOf({
  sizeMm,
  seed,
  doseFactor,
  linesPerInch,
  linesPerInchAlong,
  isSpeedGiven,
  resolved,
}: Asked): CardSpec {
  const { levels, oneWay, speedMmPerS } = resolved;
  const asked = {
    ...{ ...sizeMm, linesPerInch, linesPerInchAlong, levels, seed, oneWay },
    ...(isSpeedGiven && { speedMmPerS }),
    ...(doseFactor !== undefined && { doseFactor }),
  };
  checkCard(asked, resolved);
  return specOfCode(codeText(asked)) ?? asked;
}

/** Throws `OPTION_TOO_LARGE` for too many pixels, and `OPTION_CONFLICT` for lines that do not touch. */
function checkCard(spec: CardSpec, { spot }: ResolvedOptions): void {
  const { columns, rows, pitch } = cardGrid(spec);
  if (columns * rows > MAX_PIXELS) throw refusal("too-many-pixels", { columns, rows, maxPixels: MAX_PIXELS });
  for (const [option, pitchMm, spotMm] of [
    ["linesPerInch", pitch.acrossMm, spot.acrossMm],
    ["linesPerInchAlong", pitch.alongMm, spot.alongMm],
  ] as const) {
    if (pitchMm > spotMm) throw refusal("card-lines-apart", { option, pitchMm, spotMm });
  }
}

function jobOf(asked: Asked, options: CardOptions, { grid, spec }: CardLayout): TestCard["job"] {
  const { spot, material, speedMmPerS } = asked.resolved;
  const { columns, rows, pitch } = grid;
  const { linesPerInch, linesPerInchAlong, levels, seed, oneWay } = spec;
  return {
    material: material.name,
    materialSource: material.source,
    marksGrow: material.curve.darkens ? "darker" : "lighter",
    ...{ widthMm: columns * pitch.alongMm, heightMm: rows * pitch.acrossMm, columns, rows },
    ...{ pitchAlongMm: pitch.alongMm, pitchAcrossMm: pitch.acrossMm, linesPerInch, linesPerInchAlong },
    ...{ spotAlongMm: spot.alongMm, spotAcrossMm: spot.acrossMm },
    isSpotGiven: options.spotMm !== undefined,
    linesPerSpot: spot.acrossMm / pitch.acrossMm,
    densityReason: asked.densityReason,
    ...(spec.doseFactor !== undefined && { doseFactor: spec.doseFactor }),
    ...{ levels, seed, oneWay, speedMmPerS, isSpeedGiven: asked.isSpeedGiven },
  };
}

/** How much of a card burns, and how long it takes. */
export function burnFigures(
  { columns, rows, levels, bytes }: PackedBitmap,
  { pitch, ...head }: ResolvedOptions,
): { readonly burnFraction: number; readonly runTime: TestCard["runTime"] } {
  const timer = new RunTimer(columns, pitch.alongMm, head, levels);
  timer.add(bytes, rows);
  const { seconds, lines, beamOnSeconds } = timer.runTime();
  return {
    burnFraction: timer.fullPowerPx() / (columns * rows),
    runTime: { seconds, lines, beamOnSeconds },
  };
}
