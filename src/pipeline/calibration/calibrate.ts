import type {
  Calibration,
  CalibrationCard,
  CalibrationPicture,
  CalibrationSpread,
  LearntFigure,
} from "../../6-report/calibration.js";
import { calibrationWarnings } from "../../6-report/words/calibration-words.js";
import { settingsAdvice, surerAdvice } from "../../6-report/words/machine-advice.js";
import { deviationBetween } from "../../7-calibration/between-cards.js";
import { fitCards, type LearntCard } from "../../7-calibration/calibration.js";
import { type VariationWithin, variationWithin } from "../../7-calibration/card-variation.js";
import type { CardRecipe } from "../../7-card/recipe.js";
import { type MaterialData, resolveMaterial } from "../../core/material/material.js";
import { libraryReader, type Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { DEFAULT_SPREAD, MAX_SPREAD_PART, type Spread } from "../../core/spread.js";
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
  cardsOf,
  isDoseKnown,
  measuredCards,
  variedCards,
} from "./card-pictures.js";
import { type CardReading, readCard } from "./card-reading.js";
import { correctedReadings } from "./corrected-readings.js";
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
  const learnt = fitCards(measuredCards(cards), startOf(asked.resolved));
  refuseBrighterThanWhite(first.file, bare.luminance, learnt);
  const within = variationWithin(variedCards(cards, learnt), spread, learnt.freedoms);
  const figures = {
    ...figuresOf(learnt, readings),
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
    material: withPitch(materialOf(asked.name, figures, asked.resolved), first.recipe.pitchAcrossMm),
    machine: machineOf(asked, options, figures),
    straightenedFile: await straightened(first),
  };
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

/** What a report says of a picture. */
export const pictureOf = ({
  file,
  pxPerMm,
  evenness,
  solidOverBare,
}: Pick<CardReading, "file" | "pxPerMm" | "evenness" | "solidOverBare">): CalibrationPicture => ({
  ...{ file, pxPerMm, unevenness: evenness, solidOverBare },
});

function figuresOf(learnt: LearntCard, readings: readonly CardReading[]) {
  const { spotAlongMm, spotAcrossMm, firingLagUs, firingLossUs, lineShiftMm, lineExponent } = learnt;
  return {
    tool: { name: "spotpitch", version: packageVersion() },
    card: readings[0].recipe.code,
    pictures: readings.map(pictureOf),
    response: learnt.response,
    ...(learnt.reversalDose !== undefined && { reversalDose: learnt.reversalDose }),
    ...{ spotAlongMm, spotAcrossMm, firingLossUs, lineShiftMm, lineExponent },
    firingLagUs: { ...firingLagUs, low: Math.max(0, firingLagUs.low) },
    linesPerSpot: learnt.linesPerSpot,
    closingLinesPerInch: touching(spotAcrossMm),
    scatter: { dose: learnt.noise.dose, reading: learnt.noise.reading },
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

const digits = (value: number, count = 4): number => Number(value.toFixed(count));

type MaterialFigures = Pick<Calibration, "response" | "lineExponent" | "cards" | "reversalDose">;

/** Where the tone turned back on the card the surface chars: reports and plans warn above it. */
const charDoseOf = (charDose: number | undefined): Pick<MaterialData, "charDose"> =>
  charDose === undefined ? {} : { charDose: digits(charDose) };

/** The material file: what the surface does at each dose, whatever the density. */
function materialOf(
  name: string,
  { response, lineExponent, cards, reversalDose }: MaterialFigures,
  { material }: ResolvedOptions,
): MaterialData {
  const data: MaterialData = {
    name,
    response: response.map(({ dose, luminance }) => [digits(dose), Math.min(1, digits(luminance))] as const),
    bareColor: material.bareColor,
    markedColor: material.markedColor,
    ...charDoseOf(reversalDose ?? material.charDose),
    ...(lineExponent.learnt &&
      Math.abs(lineExponent.value - 1) > 0.02 && {
        lineExponent: Math.max(1, digits(lineExponent.value, 3)),
      }),
    source: `${sourceWords(cards)}; colours and hazards from ${material.name}`,
    hazards: [...material.hazards],
  };
  resolveMaterial(data);
  return data;
}

/**
 * With the pitch of the card's fills a report can tell the power for any other density. Fills so coarse that they would be taken for
 * rippled ones are left unsaid: the response is already without their ripple.
 */
function withPitch(data: MaterialData, pitchMm: number): MaterialData {
  const pitched = { ...data, referencePitchMm: digits(pitchMm) };
  const ripples = resolveMaterial(pitched).doubts.some(({ doubt }) => doubt === "fills-may-ripple");
  return ripples ? data : pitched;
}

const sourceWords = (cards: readonly CalibrationCard[]): string =>
  `measured with ${cards.length === 1 ? "a test card" : `${cards.length} test cards`} (${cards.map(({ code }) => code).join("; ")})`;

/** Parts of the variation that were learnt, and those that were given. */
function knownSpread(
  spread: CalibrationSpread,
  given: CalibrateOptions["spread"] = {},
): Partial<Record<keyof Spread, number>> {
  const parts = ["common", "local", "localLengthMm", "line", "spot"] as const;
  const known = parts.filter((part) => spread[part].learnt || given[part] !== undefined);
  return Object.fromEntries(known.map((part) => [part, withinLimits(part, digits(spread[part].value))]));
}

/** What a machine file may hold. */
const withinLimits = (part: keyof Spread, value: number): number =>
  part === "localLengthMm" ? value : Math.min(MAX_SPREAD_PART, value);

/** The machine file: what the card told, and what was given. */
function machineOf(
  { name }: ReturnType<typeof resolveCalibration>,
  options: CalibrateOptions,
  figures: Omit<Calibration, "warnings" | "before" | "settings" | "next">,
): MachineData {
  const { spotAlongMm, spotAcrossMm, firingLagUs, firingLossUs, lineShiftMm } = figures;
  const { speedMmPerS, isSpeedAssumed } = figures;
  const isSpotKnown = spotAlongMm.learnt || spotAcrossMm.learnt || options.spotMm !== undefined;
  const spread = knownSpread(figures.spread, options.spread);
  const known = (figure: LearntFigure, given: unknown): boolean => figure.learnt || given !== undefined;
  return {
    name,
    ...(isSpotKnown && {
      spotMm: { alongMm: digits(spotAlongMm.value), acrossMm: digits(spotAcrossMm.value) },
    }),
    ...(known(firingLagUs, options.firingLagUs) && { firingLagUs: digits(firingLagUs.value, 1) }),
    ...(known(firingLossUs, options.firingLossUs) && { firingLossUs: digits(firingLossUs.value, 1) }),
    ...(known(lineShiftMm, options.lineShiftMm) && { lineShiftMm: digits(lineShiftMm.value) }),
    ...(Object.keys(spread).length > 0 && { spread }),
    ...(!isSpeedAssumed && { speedMmPerS }),
    source: sourceWords(figures.cards),
  };
}
