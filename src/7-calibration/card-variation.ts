import { intoFactor } from "../core/positive-definite.js";
import { normalDeviate, type Random, seededRandom } from "../core/random.js";
import type { Spread } from "../core/spread.js";
import { bandByDeviations, withDeviation } from "./band.js";
import { asBelieved, bandBelieved, learntOrBelieved } from "./believed-deviation.js";
import type { LearntValue } from "./calibration.js";
import { type LineRows, lineRows, lineVariance } from "./line-variation.js";
import {
  covarianceOf,
  fitVariances,
  LENGTHS_MM,
  type Offsets,
  type PatchVariances,
  type VarianceProblem,
  varianceProblem,
} from "./local-variation.js";
import { withoutTrend } from "./offset-trend.js";
import type { VariedCard } from "./varied-patch.js";

/** How the dose varies within a piece. Relative standard deviations. */
export interface VariationWithin {
  readonly local: LearntValue;
  readonly localLengthMm: LearntValue;
  readonly line: LearntValue;
  /** Largest change of the dose by a slow drift over a card, as a share. */
  readonly drift: number;
}

export interface CardVariation {
  readonly within: VariationWithin;
  /** Why patches differ; undefined if the cards do not tell it. */
  readonly variances: PatchVariances | undefined;
}

const LINE_REFITS = 100;
const LOCAL_REFITS = 40;
const SEED = 21;
const MOST_PATCHES = 500;
/** Share by which slopes of the fitted response and the blur may be wrong, as far as virtual cards tell: bands hold that too. */
const SYSTEMATIC = 0.1;
/** Of lines more: of 70 machines in pictures, bands with a tenth held 86 %. */
const SYSTEMATIC_OF_LINES = 0.2;
/** With fewer rows of patches, nobody knows how sure the streaks are. */
const LEAST_ROWS = 4;

/**
 * Parts of the variation within a piece, from cards that were fitted.
 *
 * @param freedoms that the fit took from the patches of all cards
 */
export function cardVariation(
  cards: readonly VariedCard[],
  believed: Spread,
  freedoms: number,
): CardVariation {
  const telling = cards.filter(tellsVariation);
  const line = lineLearnt(telling.map(lineRows), believed.line);
  if (telling.length === 0) return { within: { line, ...localBelieved(believed) }, variances: undefined };
  const { variances, ...local } = localLearnt(telling.map(middleOf), line, believed, freedoms);
  return { within: { line, ...local }, variances };
}

/** Three patches for each term of the trend. */
const LEAST_PATCHES = 39;

/** Whether a card has patches enough that show a change of dose, over both of its sides. */
function tellsVariation({ patches }: VariedCard): boolean {
  const isWide = (of: "xMm" | "yMm"): boolean =>
    new Set(patches.map((patch) => Math.round(1000 * patch[of]))).size >= LEAST_ROWS;
  return patches.filter(({ gain }) => gain !== 0).length >= LEAST_PATCHES && isWide("xMm") && isWide("yMm");
}

const localBelieved = ({ local, localLengthMm }: Spread): Omit<VariationWithin, "line"> => ({
  local: asBelieved(local, bandBelieved(local)),
  localLengthMm: asBelieved(localLengthMm, bandBelieved(localLengthMm)),
  drift: 0,
});

/** The patches about the middle of a card: of a large card they do, and the pairs of all would fill the memory. */
function middleOf({ grid, patches }: VariedCard): VariedCard {
  const middle = (of: "xMm" | "yMm"): number =>
    patches.reduce((sum, patch) => sum + patch[of], 0) / patches.length;
  const [xMm, yMm] = [middle("xMm"), middle("yMm")];
  const byDistance = patches
    .map((patch) => ({ patch, mm: Math.hypot(patch.xMm - xMm, patch.yMm - yMm) }))
    .sort((a, b) => a.mm - b.mm);
  return { grid, patches: byDistance.slice(0, MOST_PATCHES).map(({ patch }) => patch) };
}

/** Blotches by least squares, with a parametric bootstrap. */
function localLearnt(
  cards: readonly VariedCard[],
  line: LearntValue,
  believed: Spread,
  freedoms: number,
): Omit<VariationWithin, "line"> & { readonly variances: PatchVariances } {
  const problems = cards.map((card) => varianceProblem(card, line.learnt ? line.value ** 2 : undefined));
  const patches = cards.reduce((sum, card) => sum + card.patches.length, 0);
  // A fit leaves less of the offsets than there was.
  const widened = Math.sqrt(patches / Math.max(1, patches - freedoms));
  const trends = cards.map((card, c) =>
    withoutTrend(
      problems[c].trend,
      Float64Array.from(card.patches, ({ offset }) => widened * offset),
    ),
  );
  const { variances, solve } = fitVariances(
    problems,
    trends.map(({ left }) => left),
  );
  const random = seededRandom(SEED);
  const draw = offsetsLike(problems, variances);
  const refits = Array.from({ length: LOCAL_REFITS }, () => solve(draw(random)));
  const deviation = (each: PatchVariances): number => Math.sqrt(each.local);
  const lengthMm = (each: PatchVariances): number => LENGTHS_MM[each.length];
  const local = learntDeviation(deviation(variances), refits.map(deviation), believed.local);
  const length = learntDeviation(lengthMm(variances), refits.map(lengthMm), believed.localLengthMm);
  return {
    variances,
    local,
    localLengthMm: local.learnt ? length : asBelieved(believed.localLengthMm, length),
    drift: Math.max(...trends.map(({ drift }) => drift)),
  };
}

/** Bootstrap over rows of patches, which share no lines. */
function lineLearnt(cards: readonly LineRows[], believed: number): LearntValue {
  const telling = cards.filter((rows) => rows.length >= LEAST_ROWS && rows[0].length > 0);
  if (telling.length === 0) return asBelieved(believed, bandBelieved(believed));
  const random = seededRandom(SEED);
  const deviation = (some: readonly LineRows[]): number => Math.sqrt(Math.max(0, lineVariance(some)));
  const refits = Array.from({ length: LINE_REFITS }, () =>
    deviation(telling.map((rows) => rows.map(() => rows[Math.floor(random() * rows.length)]))),
  );
  return learntDeviation(deviation(telling), refits, believed, SYSTEMATIC_OF_LINES);
}

/** Offsets as they could have come out, without the trend. */
function offsetsLike(problems: readonly VarianceProblem[], variances: PatchVariances) {
  const factors = problems.map((problem) => {
    const covariance = covarianceOf(problem.whole, variances);
    const rows = Array.from({ length: problem.count }, (_, i) =>
      covariance.slice((i * (i + 1)) / 2, (i * (i + 3)) / 2 + 1),
    );
    intoFactor(rows);
    return rows;
  });
  return (random: Random): Offsets =>
    factors.map((rows, c) => {
      const deviates = rows.map(() => normalDeviate(random));
      const offsets = Float64Array.from(rows, (row) =>
        row.reduce((sum, value, j) => sum + value * deviates[j], 0),
      );
      return withoutTrend(problems[c].trend, offsets).left;
    });
}

/** A standard deviation or a length that came out so, and in refits so. */
function learntDeviation(
  value: number,
  refits: readonly number[],
  believed: number,
  systematic = SYSTEMATIC,
): LearntValue {
  const { low, high } = withDeviation(bandByDeviations(value, refits), value, systematic * value);
  return learntOrBelieved(value, { low: Math.max(0, low), high }, believed);
}
