import type { Calibration, CalibrationPatch, LearntFigure } from "../../6-report/calibration.js";
import { calibrationWarnings } from "../../6-report/words/calibration-words.js";
import { fitCard, type LearntCard } from "../../7-calibration/calibration.js";
import type { MeasuredCard } from "../../7-calibration/card.js";
import type { CardRecipe } from "../../7-card/recipe.js";
import { type MaterialData, resolveMaterial } from "../../core/material/material.js";
import { libraryReader, type Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { MM_PER_INCH } from "../../core/units.js";
import { packageVersion } from "../../core/version.js";
import { type CalibrateOptions, resolveCalibration } from "../../options/calibrate-options.js";
import type { MachineData } from "../../options/machine.js";
import type { ResolvedOptions } from "../../options/options.js";
import { bareOf } from "./bare-luminance.js";
import { type CardReading, readCard } from "./card-reading.js";
import { correctedReadings } from "./corrected-readings.js";
import { joinedReadings } from "./joined-readings.js";
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
 * Learn a material and a machine from pictures of one engraved test card.
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
  const other = uncorrected.find(({ recipe: each }) => each.code !== first.recipe.code);
  if (other) throw refusal("cards-differ", { file: first.file, other: other.file });
  const { material } = asked.resolved;
  const darkens = first.solidOverBare < 1;
  if (darkens !== material.curve.darkens) {
    throw refusal("card-other-material", { material: material.name, darkens: String(darkens) });
  }
  const { readings, camera } = correctedReadings(uncorrected);
  const bare = bareOf(asked, readings, material);
  const { overBare, usable } = joinedReadings(readings);
  const read = { luminance: overBare.map((each) => each * bare.luminance), usable };
  const learnt = fitCard(measuredCard(first, read, asked.resolved), startOf(asked.resolved));
  const figures = {
    ...figuresOf(learnt, readings),
    camera: camera ? "measured" : "assumed",
    ...speedOf(first, asked),
    bare,
    patches: patchesOf(first.recipe, read, learnt),
  } as const;
  return {
    calibration: { ...figures, warnings: calibrationWarnings(figures, material.name, reader) },
    material: materialOf(asked.name, figures, asked.resolved),
    machine: machineOf(asked, options, figures),
    straightenedFile: await straightened(first),
  };
}

/** The speed of the card: its code says it, or the user does; else it is assumed. */
function speedOf({ spec }: CardReading, { isSpeedGiven, resolved }: ReturnType<typeof resolveCalibration>) {
  return {
    speedMmPerS: spec.speedMmPerS ?? resolved.speedMmPerS,
    isSpeedAssumed: spec.speedMmPerS === undefined && !isSpeedGiven,
  };
}

/** By patch of a recipe: its luminance factor, and whether it can be used. */
interface ReadPatches {
  readonly luminance: Float64Array;
  readonly usable: Uint8Array;
}

function measuredCard(
  { recipe, spec }: CardReading,
  { luminance, usable }: ReadPatches,
  { motion }: ResolvedOptions,
): MeasuredCard {
  const patterns = Object.entries(recipe.patterns).map(([id, { tile }]) => ({
    id,
    tile: {
      columns: codesOf(tile[0], recipe.levels).length,
      rows: tile.length,
      codes: Uint8Array.from(tile.flatMap((row) => codesOf(row, recipe.levels))),
    },
    doseFactor: 1,
    places: recipe.patches.flatMap(({ pattern, leftMm, topMm, widthMm, heightMm }, k) =>
      pattern === id && usable[k]
        ? [{ xMm: leftMm + widthMm / 2, yMm: topMm + heightMm / 2, luminance: luminance[k] }]
        : [],
    ),
  }));
  return {
    pitch: { alongMm: recipe.pitchAlongMm, acrossMm: recipe.pitchAcrossMm },
    levels: recipe.levels,
    speedMmPerS: spec.speedMmPerS ?? motion.speedMmPerS,
    oneWay: recipe.oneWay,
    patterns: patterns.filter(({ places }) => places.length > 0),
  };
}

/** The codes of a row of a tile, as the recipe writes them. */
const codesOf = (row: string, levels: number): number[] =>
  (levels === 2 ? [...row] : row.split(".")).map(Number);

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
    pictures: readings.map(({ file, pxPerMm, evenness }) => ({ file, pxPerMm, unevenness: evenness })),
    response: learnt.response,
    ...(learnt.reversalDose !== undefined && { reversalDose: learnt.reversalDose }),
    ...{ spotAlongMm, spotAcrossMm, firingLossUs, lineShiftMm, lineExponent },
    firingLagUs: { ...firingLagUs, low: Math.max(0, firingLagUs.low) },
    closingLinesPerInch: touching(spotAcrossMm),
    scatter: { dose: learnt.noise.dose, reading: learnt.noise.reading },
  } as const;
}

/** The density at which spots of that size just touch. */
const touching = ({ value, low, high, learnt }: LearntFigure): LearntFigure => ({
  value: MM_PER_INCH / value,
  low: MM_PER_INCH / high,
  high: MM_PER_INCH / low,
  learnt,
});

function patchesOf(
  recipe: CardRecipe,
  { luminance, usable }: ReadPatches,
  { patterns }: LearntCard,
): CalibrationPatch[] {
  const seen = new Map<string, number>();
  const fits = new Map(patterns.map((each) => [each.id, each]));
  return recipe.patches.map(({ id, pattern }, k) => {
    const place = seen.get(pattern) ?? 0;
    if (usable[k]) seen.set(pattern, place + 1);
    const fit = fits.get(pattern);
    return {
      ...{ id, pattern, measured: luminance[k] },
      ...(fit && { fitted: fit.fitted }),
      spoilt: !usable[k] || (fit?.spoilt[place] ?? false),
    };
  });
}

const digits = (value: number, count = 4): number => Number(value.toFixed(count));

/** The material file: what the surface does at each dose, whatever the density. */
function materialOf(
  name: string,
  { response, lineExponent, card }: Pick<Calibration, "response" | "lineExponent" | "card">,
  { material }: ResolvedOptions,
): MaterialData {
  const data: MaterialData = {
    name,
    response: response.map(({ dose, luminance }) => [digits(dose), digits(luminance)] as const),
    bareColor: material.bareColor,
    markedColor: material.markedColor,
    ...(material.charDose !== undefined && { charDose: material.charDose }),
    ...(lineExponent.learnt &&
      Math.abs(lineExponent.value - 1) > 0.02 && {
        lineExponent: Math.max(1, digits(lineExponent.value, 3)),
      }),
    source: `measured with a test card (${card}); colours and hazards from ${material.name}`,
    hazards: [...material.hazards],
  };
  resolveMaterial(data);
  return data;
}

/** The machine file: what the card told, and what was given. */
function machineOf(
  { name }: ReturnType<typeof resolveCalibration>,
  options: CalibrateOptions,
  figures: Omit<Calibration, "warnings">,
): MachineData {
  const { spotAlongMm, spotAcrossMm, firingLagUs, firingLossUs, lineShiftMm } = figures;
  const { card, speedMmPerS, isSpeedAssumed } = figures;
  const isSpotKnown = spotAlongMm.learnt || spotAcrossMm.learnt || options.spotMm !== undefined;
  const known = (figure: LearntFigure, given: unknown): boolean => figure.learnt || given !== undefined;
  return {
    name,
    ...(isSpotKnown && {
      spotMm: { alongMm: digits(spotAlongMm.value), acrossMm: digits(spotAcrossMm.value) },
    }),
    ...(known(firingLagUs, options.firingLagUs) && { firingLagUs: digits(firingLagUs.value, 1) }),
    ...(known(firingLossUs, options.firingLossUs) && { firingLossUs: digits(firingLossUs.value, 1) }),
    ...(known(lineShiftMm, options.lineShiftMm) && { lineShiftMm: digits(lineShiftMm.value) }),
    ...(!isSpeedAssumed && { speedMmPerS }),
    source: `measured with a test card (${card})`,
  };
}
