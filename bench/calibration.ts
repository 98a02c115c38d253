/**
 * Virtual test cards, burned by the brute-force simulation of `tests/reference` on random machines and read with noise: how far the fit
 * is off, and how often its bands hold the truth, in Markdown: `npm run bench:calibration`. `--cards 60`, `--seed 1`, `--size 80x60`;
 * `--lines 2` for cards of two lines to the guessed spot; `--plain` for machines without faults; `--guess 0.1` for that spot as the guess of every card, instead of one up to 1.6 times too
 * large or too small; `--list` for every card.
 */
import { parseArgs } from "node:util";
import { fitCards, type LearntCard, type LearntValue } from "../src/7-calibration/calibration.js";
import { createResponse, luminanceFactorAt, type ResponsePoints } from "../src/core/material/response.js";
import { lightnessFromLuminance } from "../src/core/physics/lightness.js";
import { type Random, seededRandom } from "../src/core/random.js";
import { middlingPoints, roundGuess, type Truth, virtualCards } from "../tests/7-calibration/virtual-card.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../tests/support/materials.js";
import { markdownTable } from "./table.js";

const { values: given } = parseArgs({
  options: {
    cards: { type: "string", default: "60" },
    seed: { type: "string", default: "1" },
    size: { type: "string", default: "80x60" },
    lines: { type: "string", default: "4" },
    guess: { type: "string" },
    plain: { type: "boolean", default: false },
    list: { type: "boolean", default: false },
  },
});

/** Lines of a card to the spot that its owner guesses, and by how much the guess may be wrong. */
const LINES_PER_SPOT = Number(given.lines);
const WORST_GUESS = 1.6;
/** 24 pixels in the smallest patch, as a card has of itself. */
const COARSEST_PITCH_MM = 1.8 / 24;
const [widthMm, heightMm] = given.size.split("x").map(Number);

const materials: Readonly<Record<string, ResponsePoints>> = {
  middling: middlingPoints,
  steep: steepPoints,
  gradual: gradualPoints,
  lightening: lighteningPoints,
};

/** Half of the machines have a fault, of each kind for itself. */
function drawTruth(random: Random, response: ResponsePoints): Truth {
  const between = (low: number, high: number) => low + (high - low) * random();
  const spotAlongMm = 0.06 * (given.guess === undefined ? 0.25 / 0.06 : 0.16 / 0.06) ** random();
  const fault = (low: number, high: number) => {
    const value = between(low, high);
    return random() < 0.5 && !given.plain ? value : 0;
  };
  return {
    ...{ response, spotAlongMm, spotAcrossMm: spotAlongMm * between(0.8, 1.5) },
    ...{ firingLossUs: fault(-20, 40), firingLagUs: fault(0, 100), lineShiftMm: fault(-0.1, 0.1) },
    lineExponent: 1 + fault(0, 0.5),
  };
}

interface Run {
  readonly material: string;
  readonly truth: Truth;
  readonly guessMm: number;
  readonly learnt: LearntCard;
  readonly ms: number;
}

/** The spot that the owner of a machine takes it to have. */
function drawGuess(random: Random, { spotAlongMm, spotAcrossMm }: Truth): number {
  const factor = WORST_GUESS ** (2 * random() - 1);
  return given.guess === undefined ? factor * Math.sqrt(spotAlongMm * spotAcrossMm) : Number(given.guess);
}

const pitchFor = (guessMm: number): number => Math.min(guessMm / LINES_PER_SPOT, COARSEST_PITCH_MM);

function runCards(): Run[] {
  const random = seededRandom(Number(given.seed));
  const names = Object.keys(materials);
  const jobs = Array.from({ length: Number(given.cards) }, (_, n) => {
    const material = names[n % names.length];
    const truth = drawTruth(random, materials[material]);
    const guessMm = drawGuess(random, truth);
    const reading = {
      ...{ size: { widthMm, heightMm }, pitchMm: pitchFor(guessMm) },
      ...{ doseDeviation: 0.04, readingDeviation: 0.01, seed: 1000 * Number(given.seed) + n },
    };
    return { material, truth, guessMm, reading };
  });
  const cards = virtualCards(jobs);
  return jobs.map(({ material, truth, guessMm }, n) => {
    const start = performance.now();
    const learnt = fitCards([cards[n]], { ...roundGuess, spot: { alongMm: guessMm, acrossMm: guessMm } });
    return { material, truth, guessMm, learnt, ms: performance.now() - start };
  });
}

interface Figure {
  readonly name: string;
  readonly of: (learnt: LearntCard) => LearntValue;
  readonly truth: (truth: Truth) => number;
  /** Whether deviations are shares of the truth. */
  readonly share?: boolean;
}

const FIGURES: readonly Figure[] = [
  { name: "along", of: (l) => l.spotAlongMm, truth: (t) => t.spotAlongMm, share: true },
  { name: "across", of: (l) => l.spotAcrossMm, truth: (t) => t.spotAcrossMm, share: true },
  { name: "loss, µs", of: (l) => l.firingLossUs, truth: (t) => t.firingLossUs ?? 0 },
  { name: "lag, µs", of: (l) => l.firingLagUs, truth: (t) => t.firingLagUs ?? 0 },
  {
    name: "line shift, µm",
    of: (l) => thousandfold(l.lineShiftMm),
    truth: (t) => 1000 * (t.lineShiftMm ?? 0),
  },
  { name: "line exponent", of: (l) => l.lineExponent, truth: (t) => t.lineExponent ?? 1 },
];

const thousandfold = ({ value, low, high, learnt }: LearntValue): LearntValue => ({
  ...{ value: 1000 * value, low: 1000 * low, high: 1000 * high },
  learnt,
});

/** Deviations of L* at the reported doses up to 1, and the share of doses whose band holds the truth. */
function responseOf({ truth, learnt }: Run) {
  const response = createResponse(truth.response);
  const doses = learnt.response.filter(({ dose }) => dose <= 1);
  const off = doses.map(({ dose, luminance }) => {
    return lightnessFromLuminance(luminance) - lightnessFromLuminance(luminanceFactorAt(response, dose));
  });
  const held = doses.filter(({ dose, low, high }) => {
    const luminance = luminanceFactorAt(response, dose);
    return luminance >= low && luminance <= high;
  });
  const halves = doses.map(
    ({ low, high }) => (lightnessFromLuminance(high) - lightnessFromLuminance(low)) / 2,
  );
  return { rms: rms(off), held: held.length / doses.length, half: mean(halves) };
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const rms = (values: readonly number[]) => Math.sqrt(mean(values.map((value) => value ** 2)));

/** The value below which this share of the values lies. */
function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

const percent = (share: number, digits = 0) => `${(100 * share).toFixed(digits)} %`;

function figureRow(runs: readonly Run[], { name, of, truth, share }: Figure): string[] {
  const off = runs.map((run) => {
    const right = truth(run.truth);
    return Math.abs(of(run.learnt).value - right) / (share ? right : 1);
  });
  const held = runs.map((run): number => {
    const { low, high } = of(run.learnt);
    return truth(run.truth) >= low && truth(run.truth) <= high ? 1 : 0;
  });
  const halves = runs.map((run) => {
    const { low, high } = of(run.learnt);
    return (high - low) / 2 / (share ? truth(run.truth) : 1);
  });
  const shown = (value: number) =>
    share ? percent(value, 1) : value.toFixed(name === "line exponent" ? 3 : 1);
  return [
    ...[name, shown(rms(off)), shown(quantile(off, 0.5)), shown(quantile(off, 0.9)), shown(Math.max(...off))],
    ...[percent(mean(held)), shown(quantile(halves, 0.5))],
    percent(mean(runs.map((run) => (of(run.learnt).learnt ? 1 : 0)))),
  ];
}

function responseRow(runs: readonly Run[]): string[] {
  const responses = runs.map(responseOf);
  const off = responses.map(({ rms: each }) => each);
  const shown = [rms(off), quantile(off, 0.5), quantile(off, 0.9), Math.max(...off)].map((each) =>
    each.toFixed(2),
  );
  const half = quantile(
    responses.map((each) => each.half),
    0.5,
  );
  return ["response, L*", ...shown, percent(mean(responses.map(({ held }) => held))), half.toFixed(2), "–"];
}

/** Of the true spot, the smaller one of along and across. */
const linesPerSpot = ({ truth, guessMm }: Run): number =>
  Math.min(truth.spotAlongMm, truth.spotAcrossMm) / pitchFor(guessMm);

function listRow(run: Run): string[] {
  const cells = FIGURES.map(({ of, truth }) => {
    const { value, low, high, learnt } = of(run.learnt);
    const digits = Math.abs(high) > 2 ? 1 : 4;
    const band = `${low.toFixed(digits)}…${high.toFixed(digits)}`;
    return `${truth(run.truth).toFixed(digits)}: ${value.toFixed(digits)} (${band})${learnt ? "" : " not learnt"}`;
  });
  const { rms: off, held } = responseOf(run);
  return [
    run.material,
    linesPerSpot(run).toFixed(1),
    ...cells,
    `${off.toFixed(2)}, ${percent(held)}`,
    run.ms.toFixed(0),
  ];
}

const runs = runCards();
if (given.list) {
  const head = ["material", "lines per spot", ...FIGURES.map(({ name }) => name), "response", "ms"];
  console.log(`${markdownTable(head, runs.map(listRow))}\n`);
}
const head = [
  "deviation",
  "rms",
  "median",
  "90 % below",
  "largest",
  "band holds",
  "median half width",
  "learnt",
];
const densities = [0, 3, 4, 5, Number.POSITIVE_INFINITY];
for (const [title, group] of [
  ["all", runs] as const,
  ...Object.keys(materials).map((name) => [name, runs.filter(({ material }) => material === name)] as const),
  ...densities.slice(1).map((most, n) => {
    const within = (run: Run) => linesPerSpot(run) >= densities[n] && linesPerSpot(run) < most;
    return [`${densities[n]} to ${most} lines to the spot`, runs.filter(within)] as const;
  }),
]) {
  if (group.length === 0) continue;
  console.log(`### ${title}: ${group.length} cards of ${given.size} mm\n`);
  console.log(
    `${markdownTable(head, [...FIGURES.map((figure) => figureRow(group, figure)), responseRow(group)])}\n`,
  );
}
console.log(
  `Median time of a fit: ${quantile(
    runs.map(({ ms }) => ms),
    0.5,
  ).toFixed(0)} ms.`,
);
