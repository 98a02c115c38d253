import type {
  Calibration,
  CalibrationCard,
  CalibrationSpread,
  LearntFigure,
} from "../../6-report/calibration.js";
import { calibrationWarnings } from "../../6-report/words/calibration-words.js";
import { settingsAdvice, surerAdvice } from "../../6-report/words/machine-advice.js";
import { deviationBetween } from "../../7-calibration/between-cards.js";
import { fitTwice, type LearntCard } from "../../7-calibration/calibration.js";
import { cardVariation, type VariationWithin } from "../../7-calibration/card-variation.js";
import type { CardRecipe } from "../../7-card/recipe.js";
import type { MaterialData } from "../../core/material/material.js";
import { libraryReader, type Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { DEFAULT_SPREAD, type Spread } from "../../core/spread.js";
import { MM_PER_INCH } from "../../core/units.js";
import { packageVersion } from "../../core/version.js";
import { type CalibrateOptions, resolveCalibration } from "../../options/calibrate-options.js";
import type { MachineData } from "../../options/machine.js";
import type { ResolvedOptions } from "../../options/options.js";
import { bareOf } from "./bare-luminance.js";
import { believedBefore } from "./before.js";
import {
  type CardPictures,
  calibrationPatches,
  cardsByNeighbours,
  cardsOf,
  isDoseKnown,
  measuredCards,
  variedCards,
} from "./card-pictures.js";
import { type CardReading, readCard } from "./card-reading.js";
import { correctedReadings } from "./corrected-readings.js";
import { doubtedResponse } from "./doubted-response.js";
import { learntMachine, learntMaterial } from "./learnt-files.js";
import { reportedPicture } from "./reported-picture.js";
import { straightened } from "./straightened.js";

/** A picture of a test card, and its name for messages. */
export interface CardPicture {
  readonly bytes: Uint8Array;
  readonly fileName?: string;
}

/** What was learnt, as files for the next jobs. */
export interface Calibrated {
  readonly calibration: Calibration;
  readonly material: MaterialData;
  readonly machine: MachineData;
  /** The first picture straightened, as JPEG, with the card's shape. */
  readonly straightenedFile: Uint8Array;
}

/** What does not change the figures. */
export interface CalibrateContext {
  /** Who reads the words. Default: a programmer who calls the library. */
  readonly reader?: Reader | undefined;
  /** The recipe of the card, if it must be this one. The code on the card is enough. */
  readonly recipe?: Pick<CardRecipe, "code"> | undefined;
}

/**
 * Learn a material and a machine from pictures of an engraved test card, or of several on one material.
 *
 * @throws SpotpitchError `INPUT_CARD_UNREADABLE` for a picture that will not do, with the check that failed; `OPTION_*`; and what
 * decoding throws
 */
export async function calibrate(
  pictures: readonly CardPicture[],
  options: CalibrateOptions = {},
  { reader = libraryReader, recipe }: CalibrateContext = {},
): Promise<Calibrated> {
  const asked = resolveCalibration(options);
  const uncorrected: CardReading[] = [];
  for (const { bytes, fileName = "" } of pictures)
    uncorrected.push(await readCard(bytes, fileName, recipe?.code));
  const [first] = uncorrected;
  if (!first) throw refusal("card-pictures-none", {});
  const { material, spread } = asked.resolved;
  for (const { solidOverBare } of uncorrected) {
    const darkens = solidOverBare < 1;
    if (darkens !== material.curve.darkens) {
      throw refusal("card-other-material", { material: material.name, darkens: String(darkens) });
    }
  }
  const { readings, camera } = correctedReadings(uncorrected);
  const bare = bareOf(asked, readings, material);
  const cards = cardsOf(readings, bare.luminance, speedOf(uncorrected, asked).speedMmPerS);
  const { learnt, within, noise } = fitByNeighbours(cards, asked.resolved);
  refuseBrighterThanWhite(first.file, bare.luminance, learnt);
  const figures = {
    ...figuresOf(learnt, readings),
    scatter: { dose: noise.dose, reading: noise.reading },
    response: doubtedResponse(
      learnt.response,
      camera ? undefined : { bare: bare.luminance, bareLight: first.bareLight(0, 0) },
    ),
    camera: camera ? "measured" : "assumed",
    ...speedOf(uncorrected, asked),
    cards: cards.map((card, k) => cardFigures(card, cards[0], learnt.others[k - 1])),
    spread: spreadOf(learnt, cards, within, spread),
    bare,
    patches: calibrationPatches(cards, learnt),
    before: believedBefore(
      learnt.response.map(({ dose }) => dose),
      options,
      asked.resolved,
      reader,
    ),
  } as const;
  return {
    calibration: {
      ...figures,
      warnings: calibrationWarnings(figures, material.name, reader),
      settings: settingsAdvice(figures, reader),
      next: surerAdvice(figures, reader),
    },
    material: learntMaterial(asked.name, figures, material, first.recipe.pitchAcrossMm),
    machine: learntMachine(asked.name, figures, options),
    straightenedFile: await straightened(first),
  };
}

/**
 * What a first fit leaves tells how the dose varies from place to place, and so what a patch has in common with its neighbours. A second
 * fit is spared that.
 */
function fitByNeighbours(cards: readonly CardPictures[], resolved: ResolvedOptions) {
  const { first, alone, again } = fitTwice(measuredCards(cards), startOf(resolved));
  const varied = variedCards(cards, first);
  const { within, variances } = cardVariation(varied, resolved.spread, first.freedoms);
  const learnt = variances ? again(measuredCards(cardsByNeighbours(cards, varied, variances))) : alone();
  return { learnt, within, noise: first.noise };
}

/** Noise may lift a white a little above all light. */
const MOST_LUMINANCE = 1.03;

function refuseBrighterThanWhite(file: string, bare: number, { response }: LearntCard): void {
  const most = response.reduce((top, { luminance }) => Math.max(top, luminance), 0);
  if (most > MOST_LUMINANCE) throw refusal("card-brighter-than-white", { file, bare, percent: 100 * most });
}

/** The speed of the card: its code says it, or the user does; else it is assumed. */
function speedOf(
  readings: readonly CardReading[],
  { isSpeedGiven, resolved }: ReturnType<typeof resolveCalibration>,
) {
  return {
    speedMmPerS: readings[0].spec.speedMmPerS ?? resolved.speedMmPerS,
    isSpeedAssumed: !isSpeedGiven && readings.some(({ spec }) => spec.speedMmPerS === undefined),
  };
}

const startOf = ({ spot, motion, material }: ResolvedOptions) => ({
  spot,
  motion,
  lineExponent: material.lineExponent ?? 1,
});

function figuresOf(learnt: LearntCard, readings: readonly CardReading[]) {
  const { spotAlongMm, spotAcrossMm, firingLagUs, firingLossUs, lineShiftMm, lineExponent } = learnt;
  return {
    tool: { name: "spotpitch", version: packageVersion() },
    card: readings[0].recipe.code,
    pictures: readings.map(reportedPicture),
    ...(learnt.reversalDose !== undefined && { reversalDose: learnt.reversalDose }),
    ...{ spotAlongMm, spotAcrossMm, firingLossUs, lineShiftMm, lineExponent },
    firingLagUs: { ...firingLagUs, low: Math.max(0, firingLagUs.low) },
    linesPerSpot: learnt.linesPerSpot,
    closingLinesPerInch: touching(spotAcrossMm),
  } as const;
}

const cardFigures = (
  { recipe, readings, spec }: CardPictures,
  first: CardPictures,
  other: LearntCard["others"][number] | undefined,
): CalibrationCard => ({
  code: recipe.code,
  files: readings.map(({ file }) => file),
  doseFactor: spec.doseFactor ?? 1,
  isDoseKnown: isDoseKnown(spec, first.spec),
  ...other,
});

/** What varies within a piece, and from piece to piece. */
function spreadOf(
  { others }: LearntCard,
  cards: readonly CardPictures[],
  within: VariationWithin,
  believed: Spread,
): CalibrationSpread {
  const known = others.filter((_, k) => isDoseKnown(cards[k + 1].spec, cards[0].spec));
  return {
    common: deviationBetween(
      known.map(({ dose }) => dose),
      believed.common,
      DEFAULT_SPREAD.common,
    ),
    ...within,
    spot: deviationBetween(
      others.map(({ spot }) => spot),
      believed.spot,
      DEFAULT_SPREAD.spot,
    ),
  };
}

/** The density at which spots of that size just touch. */
const touching = ({ value, low, high, learnt }: LearntFigure): LearntFigure => ({
  value: MM_PER_INCH / value,
  low: MM_PER_INCH / high,
  high: MM_PER_INCH / low,
  learnt,
});
