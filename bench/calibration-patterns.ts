/**
 * What a test card of 80 × 60 mm tells of each unknown, from the slopes of its luminance factors, averaged over 48 machines, in Markdown:
 * `npx tsx bench/calibration-patterns.ts`. `--choose 83` chooses so many patterns for it, one after the other: each time the one that
 * lowers the weighted logarithms of the variances most; the first are those of a small card.
 */
import { parseArgs } from "node:util";
import type { MeasuredCard } from "../src/7-calibration/card.js";
import { cardDesigns } from "../src/7-calibration/card-designs.js";
import { splineMeans } from "../src/7-calibration/response-basis.js";
import { type TrialBeam, trialBeam } from "../src/7-calibration/trial-beam.js";
import { UNKNOWNS, unknownScale } from "../src/7-calibration/unknowns.js";
import { BARE, cardPatterns, SOLID } from "../src/7-card/catalogue.js";
import { patternName, patternTile } from "../src/7-card/patterns.js";
import type { CardPattern } from "../src/core/card-pattern.js";
import { createResponse, meanLuminanceFactor, type ResponsePoints } from "../src/core/material/response.js";
import { dot, solvePositiveDefinite } from "../src/core/positive-definite.js";
import { middlingPoints, roundGuess, speedMmPerS } from "../tests/7-calibration/virtual-card.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../tests/support/materials.js";
import { markdownTable } from "./table.js";

const { values: given } = parseArgs({ options: { choose: { type: "string" } } });

const PITCH_MM = 0.025;
/** Places of each pattern, and of each reference. */
const PLACES = 4;
const REFERENCE_PLACES = 22;
const READING = 0.01;
const DOSE = 0.04;
const ROUGHNESS = 0.05;
const SPLINES = 22;
const COUNT = UNKNOWNS.length + SPLINES;

const range = (from: number, to: number): number[] =>
  Array.from({ length: to - from + 1 }, (_, n) => from + n);

/** All that a card may show. */
function candidatePatterns(): CardPattern[] {
  const dashes = (on: number, off: number, linePeriod: number, step = 0): CardPattern => ({
    ...{ kind: "dashes", on, off, step, linePeriod },
  });
  const parts = (period: number) => range(1, period - 1);
  const verniers = [3, 4, 5, 6, 7, 8, 10, 12, 16, 24].flatMap((period) =>
    [...new Set([1, 2, 3, 4, period / 2, period - 2, period - 1])]
      .filter((on) => Number.isInteger(on) && on > 0 && on < period)
      .flatMap((on) =>
        range(1 - Math.ceil(period / 2), Math.floor(period / 2))
          .filter((shift) => shift !== 0 && (period <= 12 || shift % 2 === 0))
          .map((shift): CardPattern => ({ kind: "vernier", on, off: period - on, shift })),
      ),
  );
  return [
    ...range(2, 16).flatMap((period) =>
      parts(period).map((on): CardPattern => ({ kind: "lines", on, period })),
    ),
    ...[1, 2, 4].flatMap((every) =>
      range(2, 16).flatMap((period) => parts(period).map((on) => dashes(on, period - on, every))),
    ),
    ...range(2, 8).flatMap((period) =>
      parts(period).flatMap((side): CardPattern[] => [
        { kind: "dots", side, period },
        { kind: "holes", side, period },
      ]),
    ),
    ...range(1, 6).map((side): CardPattern => ({ kind: "checks", side })),
    ...verniers,
  ];
}

const textOf = (pattern: CardPattern): string => {
  const { columns, codes } = patternTile(pattern, 2);
  return `${columns} ${codes.join("")}`;
};

/** References first, then what the card has, then the rest. */
const onCard = [BARE, SOLID, ...cardPatterns(2)];
const candidates = [
  ...new Map([...candidatePatterns(), ...onCard].map((each) => [textOf(each), each])).values(),
].filter((each) => !onCard.some((other) => textOf(other) === textOf(each)));
candidates.unshift(...onCard);

const card: MeasuredCard = {
  pitch: { alongMm: PITCH_MM, acrossMm: PITCH_MM },
  ...{ levels: 2, speedMmPerS, oneWay: false },
  patterns: candidates.map((pattern) => ({
    ...{ id: patternName(pattern), tile: patternTile(pattern, 2), doseFactor: 1, places: [] },
  })),
};

interface Machine {
  readonly points: ResponsePoints;
  readonly lagUs: number;
  readonly beam: TrialBeam;
}

const machines: Machine[] = [gradualPoints, middlingPoints, steepPoints, lighteningPoints].flatMap((points) =>
  [0.065, 0.09, 0.12, 0.16].flatMap((alongMm) =>
    [0, 40, 80].map((lagUs) => ({
      ...{ points, lagUs },
      beam: trialBeam(
        { alongMm, acrossMm: 1.15 * alongMm },
        { ...roundGuess.motion, firingLagUs: lagUs, firingLossUs: 5, lineShiftMm: 0.01 },
        1.1,
      ),
    })),
  ),
);

const SLOPE_STEP = 0.02;

/** Rows of the linear model, in standard errors of a place: unknowns of the beam, then splines of the response. */
function rowsFor({ points, beam }: Machine): Float64Array[] {
  const response = createResponse(points);
  const designFor = cardDesigns(card, beam);
  const scale = unknownScale({ start: beam, speedMmPerS });
  const luminance = (doses: readonly Float64Array[], factor = 1) =>
    doses.map((each) =>
      meanLuminanceFactor(
        response,
        each.map((dose) => factor * dose),
      ),
    );
  const { doses } = designFor(beam);
  const nominal = luminance(doses);
  const more = luminance(doses, 1 + SLOPE_STEP);
  const slopes = UNKNOWNS.map((_, i) => {
    const at = Float64Array.from(UNKNOWNS, (__, j) => (i === j ? SLOPE_STEP : 0));
    return luminance(designFor(scale.beamAt(at)).doses).map((each, k) => (each - nominal[k]) / SLOPE_STEP);
  });
  const basis = { cells: SPLINES - 2, topDose: 1.3 };
  return candidates.map((_, k) => {
    const error = Math.hypot(READING * nominal[k], (DOSE * (more[k] - nominal[k])) / SLOPE_STEP);
    const row = [...slopes.map((each) => each[k]), ...splineMeans(basis, doses[k])];
    return Float64Array.from(row, (value) => value / error);
  });
}

/** Smoothing of the response, and what is believed of the unknowns before. */
function priorRows({ points }: Machine): Float64Array[] {
  const unit = 1 / (ROUGHNESS * Math.abs(points[0][1] - points[points.length - 1][1]));
  const row = (first: number, values: readonly number[]) => {
    const all = new Float64Array(COUNT);
    all.set(values, first);
    return all;
  };
  return [
    ...UNKNOWNS.map((_, i) => row(i, [1])),
    ...range(UNKNOWNS.length, COUNT - 4).map((i) => row(i, [-unit, 3 * unit, -3 * unit, unit])),
  ];
}

/** A row as that many places have it. */
const repeated = (row: Float64Array, places: number) => row.map((value) => value * Math.sqrt(places));

function covariance(rows: readonly Float64Array[]): Float64Array[] {
  const information = Array.from({ length: COUNT }, (_, i) =>
    Array.from({ length: COUNT }, (__, j) =>
      rows.reduce((sum, row) => sum + row[i] * row[j], i === j ? 1e-6 : 0),
    ),
  );
  return information.map((_, i) =>
    Float64Array.from(
      solvePositiveDefinite(
        information.map((row) => [...row]),
        information.map((__, j) => (i === j ? 1 : 0)),
      ),
    ),
  );
}

/** The same after one more row (J. Sherman, W. J. Morrison, Ann. Math. Statist. 21, 124, 1950). */
function withRow(known: readonly Float64Array[], row: Float64Array): Float64Array[] {
  const reach = Float64Array.from(known, (line) => dot(line, row));
  const own = 1 + dot(reach, row);
  return known.map((line, i) => line.map((value, j) => value - (reach[i] * reach[j]) / own));
}

/** Weights of the unknowns, and of all splines together. */
const WEIGHTS: Readonly<Record<(typeof UNKNOWNS)[number], number>> = {
  ...{ along: 3, across: 2, loss: 1, lag: 3, lineShift: 2, lineExponent: 1 },
};
const RESPONSE_WEIGHT = 3;
const weights = [
  ...UNKNOWNS.map((name) => WEIGHTS[name]),
  ...new Array<number>(SPLINES).fill(RESPONSE_WEIGHT / SPLINES),
];

/** How far a row lowers the weighted logarithms of the variances. */
function worthOf(known: readonly Float64Array[], row: Float64Array): number {
  const reach = Float64Array.from(known, (line) => dot(line, row));
  const own = 1 + dot(reach, row);
  return reach.reduce(
    (sum, value, i) => sum - weights[i] * Math.log(Math.max(1e-9, 1 - value ** 2 / own / known[i][i])),
    0,
  );
}

type Known = readonly (readonly Float64Array[])[];

const models = machines.map((machine) => ({ rows: rowsFor(machine), priors: priorRows(machine) }));

/** What is known of each machine from the two references alone. */
const fromReferences = (): Known =>
  models.map(({ rows, priors }) =>
    covariance([...priors, ...rows.slice(0, 2).map((row) => repeated(row, REFERENCE_PLACES))]),
  );

const withPattern = (known: Known, k: number): Known =>
  known.map((each, m) => withRow(each, repeated(models[m].rows[k], PLACES)));

function chosen(count: number): number[] {
  let known = fromReferences();
  const order: number[] = [];
  while (order.length < count) {
    const worth = candidates.map((_, k) =>
      k < 2 || order.includes(k)
        ? 0
        : models.reduce((sum, { rows }, m) => sum + worthOf(known[m], repeated(rows[k], PLACES)), 0),
    );
    const best = worth.indexOf(Math.max(...worth));
    order.push(best);
    known = withPattern(known, best);
  }
  return order;
}

/** Standard deviations before a card, in units that a person reads. */
const DEVIATIONS: Readonly<Record<(typeof UNKNOWNS)[number], number>> = {
  ...{ along: 50, across: 50, loss: 20, lag: 50, lineShift: 60, lineExponent: 0.25 },
};

function printKnown(patterns: readonly number[]): void {
  const known = patterns.reduce(withPattern, fromReferences());
  const rms = (i: number, lagUs: number) => {
    const variances = known.filter((_, m) => machines[m].lagUs === lagUs).map((each) => each[i][i]);
    const deviation = Math.sqrt(variances.reduce((sum, each) => sum + each, 0) / variances.length);
    return (DEVIATIONS[UNKNOWNS[i]] * deviation).toFixed(UNKNOWNS[i] === "lineExponent" ? 3 : 1);
  };
  const head = ["lag, µs", "along, %", "across, %", "loss, µs", "lag, µs", "line shift, µm", "line exponent"];
  console.log(
    markdownTable(
      head,
      [0, 40, 80].map((lagUs) => [String(lagUs), ...UNKNOWNS.map((_, i) => rms(i, lagUs))]),
    ),
  );
}

if (given.choose) {
  const order = chosen(Number(given.choose));
  console.log(`${order.map((k) => patternName(candidates[k])).join(", ")}\n`);
  printKnown(order);
} else {
  printKnown(onCard.map((_, k) => k).slice(2));
}
