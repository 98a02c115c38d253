import { GAP_MM } from "../../7-card/cells.js";
import type { CardRecipe, MarkedCard } from "../../7-card/recipe.js";
import type { CardView } from "../../7-card-picture/card-view.js";
import { edgeSpread } from "../../7-card-picture/edge-spread.js";
import { type EvenLight, evenLight } from "../../7-card-picture/even-light.js";
import { frameSides } from "../../7-card-picture/frame-side.js";
import { type GapLight, gapLight } from "../../7-card-picture/gap-light.js";
import type { LightPlane } from "../../7-card-picture/light-plane.js";
import { type MeasuredPatch, measurePatches, mostEdgeMm } from "../../7-card-picture/measure.js";
import { toneMapping } from "../../7-card-picture/tone-mapping.js";
import { medianOf } from "../../core/median.js";
import type { Pitch } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";
import { patchPlaces } from "./patch-places.js";

/** A card, found in a picture. */
export interface FoundCard<Recipe extends MarkedCard = MarkedCard> {
  readonly file: string;
  readonly picture: LightPlane;
  readonly view: CardView;
  readonly recipe: Recipe;
}

/** What the patches of a card look like. */
export interface PatchLuminance {
  /** By patch of the recipe: luminance as a share of the bare surface's. */
  readonly overBare: Float64Array;
  /** By patch: 1 if it can be used, 0 if something lies on it, or shines on it, or shades it. */
  readonly usable: Uint8Array;
  /** What was measured before the light was made even. */
  readonly measured: readonly MeasuredPatch[];
  /** Light of a bare surface at shares of the card's sides, −1 to 1. */
  readonly bareLight: EvenLight["bareAt"];
  readonly solidOverBare: number;
  /** Of ln luminance at the references, after the light was made even. */
  readonly evenness: number;
}

/** Share of places of a patch beyond what the picture can show, and share of such patches. */
const [MOST_CLIPPED_PLACES, MOST_CLIPPED_PATCHES] = [0.05, 0.1];
/** Sharpening, as a share of the step between frame and surface. Cameras sharpen by 0.05 to 0.15. */
const MOST_OVERSHOOT = 0.2;
const MOST_UNEVEN = 0.08;
/** Light of a gap is off by so much in logarithm, or differs so much from side to side, where something is wrong with its patch. */
const [MOST_GAP_OFF, MOST_GAP_DIFFERENCE] = [0.06, 0.12];
/** Noise, and the grain of wood, raise both: to so many times what is usual from one patch to the next. */
const USUAL_DEVIATIONS = 3;
/** Patches of a column so near to each other are neighbours. */
const MOST_STEP_MM = 4;
const MOST_UNUSABLE = 0.2;
/** What is left of the light, robustly: so much, or so many times what it is from one patch to the next. On good pictures it is 2. */
const [MOST_DEVIATION, MOST_DEVIATIONS] = [0.025, 3.5];
/** So many references tell a surface of light; it has ten terms, and the contrast. */
const LEAST_REFERENCES = 13;
/** The gaps are as bright as bare patches, within this share of ln solid over bare: tones that blur into them make them darker. */
const MOST_GAP_SHIFT = 0.05;
/** Bare places are brighter in dark surroundings by so much, and this explains so much of how they differ. */
const [MOST_SLOPE, MOST_EXPLAINED] = [-0.05, 0.15];
/** Solid and bare differ by so much in ln luminance. */
const LEAST_CONTRAST = 0.25;
/** Patches of one pattern differ from its median by so much of the contrast, and the share of patches that may. */
const [MOST_REPEAT_OFF, MOST_UNLIKE] = [0.25, 0.1];
/** Deviations of patches from their pattern, as a share of those of all patches. */
const MOST_REPEAT_SHARE = 0.35;

/** The luminance of every patch of a card. Throws `INPUT_CARD_UNREADABLE` naming the check that failed. */
export function patchLuminance(card: FoundCard): PatchLuminance {
  const measured = measuredPatches(card);
  const even = evenPatches(card, measured);
  const overBare = Float64Array.from(measured, ({ light }, k) => light / even.bareAt(k));
  checkRepeats(card, overBare, even);
  const { bareLight, solidOverBare, residual } = even;
  const usable = even.usable.map((each, k) => (measured[k].clipped <= MOST_CLIPPED_PLACES ? each : 0));
  return { overBare, usable, measured, bareLight, solidOverBare, evenness: residual };
}

/** Refuses what is clipped, blurred or sharpened too much. */
function measuredPatches({ file, picture, view, recipe }: FoundCard): MeasuredPatch[] {
  const { widthMm, heightMm, frameMm, corners, patches } = recipe;
  const sides = frameSides(widthMm, heightMm, frameMm, corners[0].place.widthMm);
  const edge = edgeSpread(picture, view, sides, frameMm);
  const patchMm = Math.min(...patches.map((patch) => Math.min(patch.widthMm, patch.heightMm)));
  const isBlurred = edge.widthMm > mostEdgeMm(patchMm);
  const periods = periodsOf(recipe);
  const areas = patches.map((patch) => ({ ...patch, periodMm: periods.get(patch.pattern) }));
  const measured = measurePatches(picture, view, areas, isBlurred ? 0 : edge.widthMm);
  const clipped =
    measured.filter((patch) => !(patch.clipped <= MOST_CLIPPED_PLACES)).length / measured.length;
  if (clipped > MOST_CLIPPED_PATCHES) throw refusal("card-clipped", { file, share: clipped });
  if (isBlurred) throw refusal("card-blurred", { file });
  if (edge.overshoot > MOST_OVERSHOOT)
    throw refusal("card-sharpened", { file, percent: 100 * edge.overshoot });
  return measured;
}

/** After what length patterns repeat. Halftones of a check card do not. */
function periodsOf(recipe: MarkedCard & Partial<Pick<CardRecipe, "patterns">>): Map<string, Pitch> {
  const { patterns = {}, levels, pitchAlongMm, pitchAcrossMm } = recipe;
  return new Map(
    Object.entries(patterns).map(([name, { tile }]) => {
      const columns = levels === 2 ? tile[0].length : tile[0].split(".").length;
      return [name, { alongMm: columns * pitchAlongMm, acrossMm: tile.length * pitchAcrossMm }];
    }),
  );
}

interface EvenPatches extends Omit<EvenLight, "bareAt"> {
  readonly bareLight: EvenLight["bareAt"];
  /** Light of a bare surface at a patch. */
  readonly bareAt: (patch: number) => number;
  readonly usable: Uint8Array;
}

/** The light on the card, without the patches that something is wrong with. Refuses light that cannot be made even. */
function evenPatches(card: FoundCard, measured: readonly MeasuredPatch[]): EvenPatches {
  const { file, picture, view, recipe } = card;
  const gaps = gapLight(picture, view, recipe.patches, GAP_MM);
  const places = patchPlaces(recipe);
  const bareAt =
    (light: EvenLight) =>
    (k: number): number =>
      light.bareAt(places[k].x, places[k].y);
  const references = recipe.patches.flatMap(({ pattern }, k) =>
    pattern === "bare" || pattern === "solid"
      ? [{ k, ...places[k], light: measured[k].light, isSolid: pattern === "solid" }]
      : [],
  );
  const all = evenLight(references);
  checkShift(file, gaps, { ...all, bareAt: bareAt(all) });
  const first = usablePatches(recipe, gaps, bareAt(all));
  refuseUneven(card, all.residual, gapResiduals(gaps, bareAt(all)), first);
  // What is spoilt has bent the surface of light.
  const unspoilt = references.filter(({ k }) => first[k]);
  const even = unspoilt.length < LEAST_REFERENCES ? all : evenLight(unspoilt);
  const usable = usablePatches(recipe, gaps, bareAt(even));
  refuseUneven(card, even.residual, gapResiduals(gaps, bareAt(even)), usable);
  const patches = { ...even, bareLight: even.bareAt, bareAt: bareAt(even), usable };
  checkTones(card, gaps, patches);
  return patches;
}

/** Refuses light with edges, and light that changes smoothly, but more than a lamp makes it: by what is left of it from place to place. */
function refuseUneven(
  { file, recipe }: FoundCard,
  residual: number,
  off: readonly number[],
  usable: Uint8Array,
): void {
  const deviation = 1.4826 * medianOf(off.map(Math.abs));
  const share = (is: (value: number, k: number) => boolean): number => off.filter(is).length / off.length;
  if (
    residual > MOST_UNEVEN ||
    share((_, k) => usable[k] === 0) > MOST_UNUSABLE ||
    deviation > Math.max(MOST_DEVIATION, MOST_DEVIATIONS * fromNextToNext(recipe.patches, off))
  ) {
    const percent = 100 * share((value) => !(Math.abs(value) < MOST_DEVIATION));
    throw refusal("card-uneven-light", { file, percent });
  }
}

/** Refuses tones that run into each other, and a picture that is none of an engraved card. */
function checkShift(
  file: string,
  gaps: readonly GapLight[],
  { solidOverBare, bareAt }: Pick<EvenPatches, "solidOverBare" | "bareAt">,
): void {
  const contrast = Math.log(solidOverBare);
  if (Math.abs(contrast) < LEAST_CONTRAST) throw refusal("card-too-faint", { file });
  const shift = medianOf(gaps.map(({ light }, k) => Math.log(light / bareAt(k)))) / contrast;
  if (shift > MOST_GAP_SHIFT) throw refusal("card-blurred", { file });
  if (shift < -MOST_GAP_SHIFT) throw refusal("card-not-engraved", { file });
}

/** Patches whose gaps are as bright as the light there says, and alike on all sides. */
function usablePatches(
  { patches }: MarkedCard,
  gaps: readonly GapLight[],
  bareAt: (patch: number) => number,
): Uint8Array {
  const off = gapResiduals(gaps, bareAt);
  const usual = medianOf(gaps.map(({ difference }) => difference));
  const mostDifference = Math.max(MOST_GAP_DIFFERENCE, USUAL_DEVIATIONS * usual);
  const mostOff = Math.max(MOST_GAP_OFF, USUAL_DEVIATIONS * fromNextToNext(patches, off));
  return Uint8Array.from(gaps, ({ difference }, k) =>
    Math.abs(off[k]) < mostOff && difference < mostDifference ? 1 : 0,
  );
}

/** Standard deviation of values of patches from those of the patches below them, robustly: a shadow is not in it, but grain is. */
function fromNextToNext(patches: MarkedCard["patches"], values: readonly number[]): number {
  const steps = patches.flatMap(({ leftMm, topMm }, k) => {
    const below = patches.findIndex(
      (each) => each.leftMm === leftMm && each.topMm > topMm && each.topMm < topMm + MOST_STEP_MM,
    );
    return below < 0 ? [] : [Math.abs(values[below] - values[k])];
  });
  return steps.length === 0 ? 0 : (1.4826 * medianOf(steps)) / Math.SQRT2;
}

/** Ln light of the gaps over that of a bare surface there, less its median: tones blur into all gaps a little. */
function gapResiduals(gaps: readonly GapLight[], bareAt: (patch: number) => number): number[] {
  const residuals = gaps.map(({ light }, k) => Math.log(light / bareAt(k)));
  const shift = medianOf(residuals);
  return residuals.map((each) => each - shift);
}

/** Refuses a camera that changes tones from place to place. */
function checkTones(
  { file, picture, view, recipe }: FoundCard,
  gaps: readonly GapLight[],
  even: EvenPatches,
) {
  const residuals = gapResiduals(gaps, even.bareAt);
  const bare = recipe.patches.flatMap(({ leftMm, topMm, widthMm, heightMm }, k) =>
    even.usable[k] ? [{ xMm: leftMm + widthMm / 2, yMm: topMm + heightMm / 2, residual: residuals[k] }] : [],
  );
  const { slope, explained } = toneMapping(picture, view, recipe, bare);
  if (slope < MOST_SLOPE && explained > MOST_EXPLAINED) throw refusal("card-tones-by-place", { file });
}

/** Refuses a card whose patches of one pattern are unlike: its code is that of another card. */
function checkRepeats({ file, recipe }: FoundCard, overBare: Float64Array, even: EvenPatches): void {
  const contrast = Math.abs(Math.log(even.solidOverBare));
  const byPattern = new Map<string, number[]>();
  for (const [k, { pattern }] of recipe.patches.entries()) {
    // References have the same places on every card.
    if (!even.usable[k] || pattern === "bare" || pattern === "solid") continue;
    byPattern.set(pattern, [...(byPattern.get(pattern) ?? []), Math.log(overBare[k]) / contrast]);
  }
  const repeated = [...byPattern.values()].filter((values) => values.length > 1);
  const own = repeated.flatMap(fromMiddle);
  const unlike = own.filter((each) => !(each < MOST_REPEAT_OFF)).length / own.length;
  const share = medianOf(own) / medianOf(fromMiddle(repeated.flat()));
  if (unlike > MOST_UNLIKE || share > MOST_REPEAT_SHARE) throw refusal("card-patches-unlike", { file });
}

/** How far values are off their middle one. */
function fromMiddle(values: readonly number[]): number[] {
  const middle = medianOf(values);
  return values.map((value) => Math.abs(value - middle));
}
