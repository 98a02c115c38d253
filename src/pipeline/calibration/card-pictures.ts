import type { CalibrationPatch } from "../../6-report/calibration.js";
import type { LearntCard } from "../../7-calibration/calibration.js";
import { type MeasuredCard, patternIdOn } from "../../7-calibration/card.js";
import type { PatchVariances } from "../../7-calibration/local-variation.js";
import { offsetsByNeighbours } from "../../7-calibration/neighbour-offsets.js";
import type { PatchGrid, VariedCard } from "../../7-calibration/varied-patch.js";
import type { CardSpec } from "../../7-card/card-spec.js";
import { GAP_MM } from "../../7-card/cells.js";
import type { CardRecipe } from "../../7-card/recipe.js";
import { innerSize } from "../../7-card-picture/measure.js";
import { rowWaves, waveHeightMm } from "../../7-card-picture/row-waves.js";
import type { PatternTile } from "../../core/pattern-tile.js";
import type { CardReading } from "./card-reading.js";
import { joinedReadings } from "./joined-readings.js";

/** All pictures of one card. */
export interface CardPictures {
  readonly spec: CardSpec;
  readonly recipe: CardRecipe;
  readonly speedMmPerS: number;
  readonly readings: readonly CardReading[];
  /** By patch: its luminance factor. */
  readonly luminance: Float64Array;
  /** By patch: its number among the usable ones of its pattern, from 0; −1 if it is not usable. */
  readonly places: Int32Array;
}

/**
 * Cards in the order of their first pictures. Pictures with equal codes are of one card.
 *
 * @param otherwiseMmPerS speed of a card whose code does not say it
 */
export function cardsOf(
  readings: readonly CardReading[],
  bareLuminance: number,
  otherwiseMmPerS: number,
): CardPictures[] {
  const byCode = new Map<string, CardReading[]>();
  for (const reading of readings) {
    const { code } = reading.recipe;
    byCode.set(code, [...(byCode.get(code) ?? []), reading]);
  }
  return [...byCode.values()].map((each) => {
    const [{ spec, recipe }] = each;
    const { overBare, usable } = joinedReadings(each);
    return {
      ...{ spec, recipe, readings: each, places: placesOf(recipe, usable) },
      luminance: overBare.map((share) => share * bareLuminance),
      speedMmPerS: spec.speedMmPerS ?? otherwiseMmPerS,
    };
  });
}

function placesOf({ patches }: CardRecipe, usable: Uint8Array): Int32Array {
  const seen = new Map<string, number>();
  return Int32Array.from(patches, ({ pattern }, k) => {
    if (!usable[k]) return -1;
    const place = seen.get(pattern) ?? 0;
    seen.set(pattern, place + 1);
    return place;
  });
}

/** What was read of each card, for a fit. */
export function measuredCards(cards: readonly CardPictures[]): MeasuredCard[] {
  return cards.map(({ recipe, spec, speedMmPerS, luminance, places }) => ({
    pitch: { alongMm: recipe.pitchAlongMm, acrossMm: recipe.pitchAcrossMm },
    ...{ levels: recipe.levels, oneWay: recipe.oneWay, speedMmPerS },
    isDoseKnown: isDoseKnown(spec, cards[0].spec),
    patterns: Object.entries(recipe.patterns)
      .map(([id, { tile }]) => ({
        ...{ id, tile: tileOf(tile, recipe.levels), doseFactor: spec.doseFactor ?? 1 },
        places: recipe.patches.flatMap(({ pattern, leftMm, topMm, widthMm, heightMm }, k) =>
          pattern === id && places[k] >= 0
            ? [{ xMm: leftMm + widthMm / 2, yMm: topMm + heightMm / 2, luminance: luminance[k] }]
            : [],
        ),
      }))
      .filter((pattern) => pattern.places.length > 0),
  }));
}

/**
 * The cards without what neighbours of each patch say of it.
 *
 * @param varied the same cards, and why their patches differ
 */
export function cardsByNeighbours<Card extends Pick<CardPictures, "luminance">>(
  cards: readonly Card[],
  varied: readonly VariedCard[],
  variances: PatchVariances,
): Card[] {
  return cards.map((card, c) => {
    const luminance = Float64Array.from(card.luminance);
    const offsets = offsetsByNeighbours(varied[c], variances);
    for (const [n, { patch }] of varied[c].patches.entries()) luminance[patch] *= Math.exp(-offsets[n]);
    return { ...card, luminance };
  });
}

/** At another density or speed the power is set anew, unless the code says what dose that was to give. */
export const isDoseKnown = (spec: CardSpec, first: CardSpec): boolean =>
  spec.doseFactor !== undefined ||
  (spec.linesPerInch === first.linesPerInch &&
    (spec.speedMmPerS ?? first.speedMmPerS) === (first.speedMmPerS ?? spec.speedMmPerS));

function tileOf(rows: readonly string[], levels: number): PatternTile {
  const codes = rows.map((row) => (levels === 2 ? [...row] : row.split(".")).map(Number));
  return { columns: codes[0].length, rows: rows.length, codes: Uint8Array.from(codes.flat()) };
}

/** Waves that are taken of each patch. */
const WAVES = 12;

/** How each patch differs from the fit, for what varies within a card. Spoilt patches are left out. */
export function variedCards(
  cards: readonly CardPictures[],
  { patterns, spotAcrossMm }: LearntCard,
): VariedCard[] {
  const fits = new Map(patterns.map((each) => [each.id, each]));
  return cards.map(({ recipe, readings, luminance, places }, card) => ({
    grid: gridOf(recipe, Math.min(...readings.map(({ pxPerMm }) => pxPerMm)), spotAcrossMm.value),
    patches: recipe.patches.flatMap((patch, k) => {
      const fit = fits.get(patternIdOn(card, patch.pattern));
      if (!fit || places[k] < 0 || fit.spoilt[places[k]]) return [];
      const offset = Math.log(luminance[k] / fit.fitted);
      const good = readings.filter(({ usable }) => usable[k]);
      const waves = meanOf(good.map(({ picture, view }) => rowWaves(picture, view, patch, WAVES)));
      // A part of the patch may lie outside the picture.
      if (![offset, ...waves].every(Number.isFinite)) return [];
      return {
        ...{ patch: k, pattern: patch.pattern },
        ...{ xMm: patch.leftMm + patch.widthMm / 2, yMm: patch.topMm + patch.heightMm / 2 },
        ...{ offset, waves, gain: fit.slope / fit.fitted },
        lines: dosesOfLines(tileOf(recipe.patterns[patch.pattern].tile, recipe.levels)),
      };
    }),
  }));
}

function gridOf(recipe: CardRecipe, pxPerMm: number, spotMm: number): PatchGrid {
  const [patch] = recipe.patches;
  return {
    ...innerSize(patch),
    ...{ waveHeightMm: waveHeightMm(patch), pitchMm: recipe.pitchAcrossMm, spotMm },
    stepMm: patch.widthMm + GAP_MM,
    pixelMm: 1 / pxPerMm,
  };
}

/** Of each line of a tile, as a share of their mean; 1 if nothing burns. */
function dosesOfLines({ columns, rows, codes }: PatternTile): Float64Array {
  const sums = Float64Array.from({ length: rows }, (_, y) =>
    codes.subarray(y * columns, (y + 1) * columns).reduce((sum, code) => sum + code, 0),
  );
  const mean = sums.reduce((sum, each) => sum + each, 0) / rows;
  return sums.map((each) => (mean === 0 ? 1 : each / mean));
}

const meanOf = (all: readonly Float64Array[]): Float64Array =>
  all[0].map((_, k) => all.reduce((sum, each) => sum + each[k], 0) / all.length);

/** Every patch as it was read. Those of further cards are named after their card: `2:c7`. */
export function calibrationPatches(
  cards: readonly CardPictures[],
  { patterns }: Pick<LearntCard, "patterns">,
): CalibrationPatch[] {
  const fits = new Map(patterns.map((each) => [each.id, each]));
  return cards.flatMap(({ recipe, luminance, places }, card) =>
    recipe.patches.map(({ id, pattern }, k) => {
      const fit = fits.get(patternIdOn(card, pattern));
      return {
        ...{ id: patternIdOn(card, id), pattern, measured: luminance[k] },
        ...(fit && { fitted: fit.fitted }),
        spoilt: places[k] < 0 || (fit?.spoilt[places[k]] ?? false),
      };
    }),
  );
}
