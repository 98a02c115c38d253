/**
 * Virtual test cards, burned by the brute-force simulation of `tests/reference` on random machines and read with noise: how far the fit
 * is off, and how often its bands hold the truth, in Markdown: `npm run bench:calibration`. `--cards 60`, `--seed 1`; `--repeats 8`;
 * `--without "vernier"` leaves out patterns whose name starts so; `--plain` for machines without faults; `--list` for every card.
 */
import { parseArgs } from "node:util";
import { fitCard, type LearntCard, type LearntValue } from "../src/7-calibration/calibration.js";
import { createResponse, luminanceFactorAt, type ResponsePoints } from "../src/core/material/response.js";
import { lightnessFromLuminance } from "../src/core/physics/lightness.js";
import { type Random, seededRandom } from "../src/core/random.js";
import { cardPatterns } from "../tests/7-calibration/patterns.js";
import { middlingPoints, roundGuess, type Truth, virtualCards } from "../tests/7-calibration/virtual-card.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../tests/support/materials.js";
import { markdownTable } from "./table.js";

const { values: given } = parseArgs({
  options: {
    cards: { type: "string", default: "60" },
    seed: { type: "string", default: "1" },
    repeats: { type: "string", default: "8" },
    without: { type: "string", multiple: true, default: [] },
    plain: { type: "boolean", default: false },
    list: { type: "boolean", default: false },
  },
});

const materials: Readonly<Record<string, ResponsePoints>> = {
  middling: middlingPoints,
  steep: steepPoints,
  gradual: gradualPoints,
  lightening: lighteningPoints,
};

/** Half of the machines have a fault, of each kind for itself. */
function drawTruth(random: Random, response: ResponsePoints): Truth {
  const between = (low: number, high: number) => low + (high - low) * random();
  const spotAlongMm = between(0.07, 0.16);
  const fault = (low: number, high: number) => {
    const value = between(low, high);
    return random() < 0.5 && !given.plain ? value : 0;
  };
  return {
    ...{ response, spotAlongMm, spotAcrossMm: spotAlongMm * between(0.8, 1.5) },
    ...{ firingLossUs: fault(-20, 40), firingLagUs: fault(0, 100), lineShiftMm: fault(-0.08, 0.08) },
    lineExponent: 1 + fault(0, 0.5),
  };
}

interface Run {
  readonly material: string;
  readonly truth: Truth;
  readonly learnt: LearntCard;
  readonly ms: number;
}

const patterns = cardPatterns.filter(({ id }) => !given.without.some((start) => id.startsWith(start)));

function runCards(): Run[] {
  const random = seededRandom(Number(given.seed));
  const names = Object.keys(materials);
  const jobs = Array.from({ length: Number(given.cards) }, (_, n) => ({
    material: names[n % names.length],
    truth: drawTruth(random, materials[names[n % names.length]]),
    reading: {
      ...{ patterns, pitchMm: 0.025, repeats: Number(given.repeats) },
      ...{ doseDeviation: 0.04, readingDeviation: 0.01, seed: 1000 * Number(given.seed) + n },
    },
  }));
  const cards = virtualCards(jobs);
  return jobs.map(({ material, truth }, n) => {
    const start = performance.now();
    const learnt = fitCard(cards[n], roundGuess);
    return { material, truth, learnt, ms: performance.now() - start };
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
  return { rms: rms(off), held: held.length / doses.length };
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
  const shown = (value: number) =>
    share ? percent(value, 1) : value.toFixed(name === "line exponent" ? 3 : 1);
  return [
    ...[name, shown(rms(off)), shown(quantile(off, 0.5)), shown(quantile(off, 0.9)), shown(Math.max(...off))],
    ...[percent(mean(held)), percent(mean(runs.map((run) => (of(run.learnt).learnt ? 1 : 0))))],
  ];
}

function responseRow(runs: readonly Run[]): string[] {
  const responses = runs.map(responseOf);
  const off = responses.map(({ rms: each }) => each);
  const shown = [rms(off), quantile(off, 0.5), quantile(off, 0.9), Math.max(...off)].map((each) =>
    each.toFixed(2),
  );
  return ["response, L*", ...shown, percent(mean(responses.map(({ held }) => held))), "–"];
}

function listRow(run: Run): string[] {
  const cells = FIGURES.map(({ of, truth }) => {
    const { value, low, high, learnt } = of(run.learnt);
    const digits = Math.abs(high) > 2 ? 1 : 4;
    const band = `${low.toFixed(digits)}…${high.toFixed(digits)}`;
    return `${truth(run.truth).toFixed(digits)}: ${value.toFixed(digits)} (${band})${learnt ? "" : " not learnt"}`;
  });
  const { rms: off, held } = responseOf(run);
  return [run.material, ...cells, `${off.toFixed(2)}, ${percent(held)}`, run.ms.toFixed(0)];
}

const runs = runCards();
if (given.list) {
  const head = ["material", ...FIGURES.map(({ name }) => name), "response", "ms"];
  console.log(`${markdownTable(head, runs.map(listRow))}\n`);
}
const head = ["deviation", "rms", "median", "90 % below", "largest", "band holds", "learnt"];
for (const [title, group] of [
  ["all", runs] as const,
  ...Object.keys(materials).map((name) => [name, runs.filter(({ material }) => material === name)] as const),
]) {
  console.log(`### ${title}: ${group.length} cards of ${patterns.length} patterns × ${given.repeats}\n`);
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
