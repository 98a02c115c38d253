/**
 * What each pattern of a test card tells of each unknown, from the slopes of its luminance factor, in Markdown:
 * `npx tsx bench/calibration-patterns.ts`. A figure is the share by which the variance of the unknown falls if eight more places show the
 * pattern, averaged over twelve machines. `--top 12` patterns for each unknown; `--choose 64` for the best card of so many patterns, one
 * added after the other.
 */
import { parseArgs } from "node:util";
import type { MeasuredCard } from "../src/7-calibration/card.js";
import { cardDesigns } from "../src/7-calibration/card-designs.js";
import { splineMeans } from "../src/7-calibration/response-basis.js";
import { type TrialBeam, trialBeam } from "../src/7-calibration/trial-beam.js";
import { UNKNOWNS, unknownScale } from "../src/7-calibration/unknowns.js";
import { createResponse, meanLuminanceFactor } from "../src/core/material/response.js";
import { solvePositiveDefinite } from "../src/core/positive-definite.js";
import { candidatePatterns, cardPatterns, type NamedTile } from "../tests/7-calibration/patterns.js";
import { middlingPoints, roundGuess, speedMmPerS } from "../tests/7-calibration/virtual-card.js";
import { gradualPoints, steepPoints } from "../tests/support/materials.js";
import { markdownTable } from "./table.js";

const { values: given } = parseArgs({
  options: { top: { type: "string", default: "12" }, choose: { type: "string" } },
});

const REPEATS = 8;
const READING = 0.01;
const DOSE = 0.04;
const ROUGHNESS = 0.05;

const cardOf = (patterns: readonly NamedTile[]): MeasuredCard => ({
  pitch: { alongMm: 0.025, acrossMm: 0.025 },
  ...{ levels: 2, speedMmPerS, oneWay: false },
  patterns: patterns.map(({ id, tile }) => ({ id, tile, doseFactor: 1, places: [] })),
});

/** Rows of the linear model, in standard errors of eight places: unknowns of the beam, then splines of the response. */
function rowsFor(patterns: readonly NamedTile[], beam: TrialBeam, points: typeof steepPoints): number[][] {
  const response = createResponse(points);
  const designFor = cardDesigns(cardOf(patterns), beam);
  const scale = unknownScale(beam, speedMmPerS);
  const at = (of: Float64Array) => designFor(scale.beamAt(of)).doses;
  const none = new Float64Array(UNKNOWNS.length);
  const here = designFor(beam);
  const luminance = (doses: readonly Float64Array[], factor = 1) =>
    doses.map((each) =>
      meanLuminanceFactor(
        response,
        each.map((dose) => factor * dose),
      ),
    );
  const nominal = luminance(here.doses);
  const more = luminance(here.doses, 1.02);
  const basis = { cells: 20, topDose: 1.3 };
  const slopes = UNKNOWNS.map((_, i) => luminance(at(none.map((__, j) => (i === j ? 0.02 : 0)))));
  return patterns.map((_, k) => {
    const error =
      Math.hypot(READING * nominal[k], (DOSE * (more[k] - nominal[k])) / 0.02) / Math.sqrt(REPEATS) + 5e-4;
    const beamSlopes = slopes.map((each) => (each[k] - nominal[k]) / 0.02);
    return [...beamSlopes, ...splineMeans(basis, here.doses[k])].map((value) => value / error);
  });
}

/** Smoothing of the response, and what is believed of the unknowns before. */
function priorRows(splines: number, range: number): number[][] {
  const count = UNKNOWNS.length + splines;
  const row = (values: readonly (readonly [number, number])[]) => {
    const all = new Array<number>(count).fill(0);
    for (const [i, value] of values) all[i] = value;
    return all;
  };
  const unit = 1 / (ROUGHNESS * range);
  return [
    ...UNKNOWNS.map((_, i) => row([[i, 1]])),
    ...Array.from({ length: splines - 3 }, (_, n) => {
      const first = UNKNOWNS.length + n;
      return row([
        [first, -unit],
        [first + 1, 3 * unit],
        [first + 2, -3 * unit],
        [first + 3, unit],
      ]);
    }),
  ];
}

function covariance(rows: readonly number[][]): number[][] {
  const count = rows[0].length;
  const matrix = () =>
    Array.from({ length: count }, (_, i) =>
      Array.from({ length: count }, (__, j) =>
        rows.reduce((sum, row) => sum + row[i] * row[j], i === j ? 1e-9 : 0),
      ),
    );
  const information = matrix();
  return information.map((_, i) =>
    solvePositiveDefinite(
      information.map((row) => [...row]),
      information.map((__, j) => (i === j ? 1 : 0)),
    ),
  );
}

const machines = [gradualPoints, middlingPoints, steepPoints].flatMap((points) =>
  [0.09, 0.13].flatMap((alongMm) =>
    [0, 50].map((firingLagUs) => ({
      points,
      beam: trialBeam(
        { alongMm, acrossMm: 1.15 * alongMm },
        { ...roundGuess.motion, firingLagUs, firingLossUs: 5, lineShiftMm: 0.01 },
        1.1,
      ),
    })),
  ),
);

const candidates = [...cardPatterns, ...candidatePatterns];
const models = machines.map(({ points, beam }) => {
  const rows = rowsFor(candidates, beam, points);
  const range = Math.abs(points[0][1] - points[points.length - 1][1]);
  return { rows, priors: priorRows(22, range) };
});

/** What one more row does: the share by which the variance of each number falls. */
function gainsOf(
  known: readonly number[][],
  row: readonly number[],
): { reach: number[]; own: number; gains: number[] } {
  const reach = known.map((line) => line.reduce((sum, value, j) => sum + value * row[j], 0));
  const own = 1 + row.reduce((sum, value, j) => sum + value * reach[j], 0);
  return { reach, own, gains: reach.map((value, i) => value ** 2 / own / known[i][i]) };
}

function printGains(): void {
  const gains = candidates.map(() => UNKNOWNS.map(() => 0));
  const deviations = UNKNOWNS.map(() => 0);
  for (const { rows, priors } of models) {
    const known = covariance([...rows.slice(0, cardPatterns.length), ...priors]);
    rows.forEach((row, k) => {
      const each = gainsOf(known, row).gains;
      UNKNOWNS.forEach((_, i) => {
        gains[k][i] += each[i] / models.length;
      });
    });
    UNKNOWNS.forEach((_, i) => {
      deviations[i] += Math.sqrt(known[i][i]) / models.length;
    });
  }
  const after = ["deviation after the card, of the one before", ...deviations.map((each) => each.toFixed(3))];
  console.log(markdownTable(["", ...UNKNOWNS], [after]));
  UNKNOWNS.forEach((name, i) => {
    const order = candidates.map((_, k) => k).sort((a, b) => gains[b][i] - gains[a][i]);
    const best = order.slice(0, Number(given.top)).map((k) => {
      const extra = k >= cardPatterns.length ? " *" : "";
      return `${candidates[k].id}${extra} ${(100 * gains[k][i]).toFixed(1)} %`;
    });
    console.log(`\n**${name}**: ${best.join(", ")}`);
  });
  console.log("\n\\* not on the tests' card");
}

/** Weights of the unknowns, and of all splines together. */
const WEIGHTS: Readonly<Record<(typeof UNKNOWNS)[number], number>> = {
  ...{ along: 2, across: 2, loss: 1, lag: 1, lineShift: 1, lineExponent: 1 },
};
const RESPONSE_WEIGHT = 3;

/** Adds the pattern that lowers the weighted logarithms of the variances most, machine by machine on average. */
function printChoice(count: number): void {
  const known = models.map(({ rows, priors }) => covariance([rows[0], rows[1], ...priors]));
  const chosen = [0, 1];
  while (chosen.length < count) {
    const worth = candidates.map((_, k) =>
      chosen.includes(k)
        ? 0
        : models.reduce((sum, { rows }, m) => sum + worthOf(gainsOf(known[m], rows[k]).gains), 0),
    );
    const best = worth.indexOf(Math.max(...worth));
    chosen.push(best);
    models.forEach(({ rows }, m) => {
      const { reach, own } = gainsOf(known[m], rows[best]);
      known[m] = known[m].map((line, i) => line.map((value, j) => value - (reach[i] * reach[j]) / own));
    });
  }
  console.log(chosen.map((k) => candidates[k].id).join(", "));
  const after = UNKNOWNS.map(
    (_, i) => known.reduce((sum, each) => sum + Math.sqrt(each[i][i]), 0) / known.length,
  );
  console.log(markdownTable([...UNKNOWNS], [after.map((each) => each.toFixed(3))]));
}

function worthOf(gains: readonly number[]): number {
  const splines = gains.slice(UNKNOWNS.length);
  const beam = UNKNOWNS.reduce((sum, name, i) => sum - WEIGHTS[name] * Math.log(1 - gains[i]), 0);
  return (
    beam - (RESPONSE_WEIGHT / splines.length) * splines.reduce((sum, gain) => sum + Math.log(1 - gain), 0)
  );
}

if (given.choose) printChoice(Number(given.choose));
else printGains();
