/**
 * Virtual cards, engraved with a known variation and photographed by `tests/reference/camera.py`: how far the variation that
 * `calibrate` learns is off, in Markdown: `npx tsx bench/variation.ts`. `--cards 24`, `--from 0`; `--keep FOLDER` for the pictures; `--series 4`: so many cards of each
 * machine are read together, of which every other one has 1.5 times the dose.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { seededRandom } from "../src/core/random.js";
import { type Calibration, calibrate, type LearntFigure, testCard } from "../src/index.js";
import { middlingPoints } from "../tests/7-calibration/virtual-card.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../tests/support/materials.js";
import { normals } from "../tests/support/normals.js";
import { photographed } from "../tests/support/virtual-camera.js";
import { markdownTable } from "./table.js";

const { values: given } = parseArgs({
  options: {
    cards: { type: "string", default: "24" },
    from: { type: "string", default: "0" },
    series: { type: "string", default: "1" },
    keep: { type: "string" },
  },
});
const series = Number(given.series);
const materials = [
  { name: "middling", points: middlingPoints, preset: "maple" },
  { name: "steep", points: steepPoints, preset: "maple" },
  { name: "gradual", points: gradualPoints, preset: "maple" },
  { name: "lightening", points: lighteningPoints, preset: "slate" },
] as const;
/** Of the dose and of the spot from card to card. */
const BETWEEN = { common: 0.06, spot: 0.04 };
const SPEED = 300;

function drawn(n: number) {
  const random = seededRandom(7000 + n);
  const between = (low: number, high: number) => low + (high - low) * random();
  const spotAlongMm = between(0.1, 0.16);
  const spread = { local: between(0.015, 0.06), localLengthMm: between(1.5, 6), line: between(0.02, 0.07) };
  const machine = { spotAlongMm, spotAcrossMm: spotAlongMm * between(0.9, 1.3), speedMmPerS: SPEED, spread };
  const camera = {
    ...{ columns: 2400, rows: 1800, tiltDeg: between(0, 20), tiltTowardsDeg: between(0, 360) },
    ...{ rollDeg: between(-5, 5), gradient: between(1, 1.7), gradientTowardsDeg: between(0, 360) },
    ...{ vignetting: true, blurPx: between(0.5, 1.2), noise: 0.01, jpeg: 85, grain: [0, 0.01, 0.02][n % 3] },
  };
  const pieces = Array.from({ length: series }, () => {
    const [dose, spot] = normals(random);
    return series === 1
      ? { doseFactor: 1, spotFactor: 1 }
      : { doseFactor: Math.exp(BETWEEN.common * dose), spotFactor: Math.exp(BETWEEN.spot * spot) };
  });
  return { material: materials[n % materials.length], machine, camera, pieces };
}

async function run(n: number) {
  const { material, machine, camera, pieces } = drawn(n);
  const pictures = [];
  for (const [k, piece] of pieces.entries()) {
    const meant = k % 2 === 1 ? { doseFactor: 1.5 } : {};
    const card = await testCard({
      ...{ linesPerInch: 762, spotMm: 0.13, speedMmPerS: SPEED, seed: k + 1, ...meant },
    });
    const doseFactor = piece.doseFactor * (meant.doseFactor ?? 1);
    const engraving = { ...machine, response: material.points, ...piece, doseFactor };
    const [picture] = photographed(card, engraving, [camera], 10 * n + k);
    const fileName = `${n}-${k + 1}.jpg`;
    pictures.push({ bytes: picture.bytes, fileName });
    if (given.keep !== undefined) writeFileSync(join(given.keep, fileName), picture.bytes);
  }
  const start = performance.now();
  const { calibration } = await calibrate(pictures, {
    ...{ material: material.preset, bareLuminance: material.points[0][1], spotMm: 0.13, speedMmPerS: SPEED },
  });
  return { n, name: material.name, machine, pieces, calibration, ms: performance.now() - start };
}

type Run = Awaited<ReturnType<typeof run>>;

interface Figure {
  readonly name: string;
  readonly of: (calibration: Calibration) => LearntFigure;
  readonly truth: (run: Run) => number;
}

const logsOf = (pieces: Run["pieces"], of: "doseFactor" | "spotFactor") =>
  pieces.map((piece) => Math.log(piece[of]));

/** Of the cards that were drawn: how far these few stand for the machine is another matter. */
function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

const FIGURES: readonly Figure[] = [
  { name: "local", of: ({ spread }) => spread.local, truth: ({ machine }) => machine.spread.local },
  {
    name: "length",
    of: ({ spread }) => spread.localLengthMm,
    truth: ({ machine }) => machine.spread.localLengthMm,
  },
  { name: "line", of: ({ spread }) => spread.line, truth: ({ machine }) => machine.spread.line },
  ...(series === 1
    ? []
    : [
        {
          name: "common",
          of: ({ spread }: Calibration) => spread.common,
          truth: ({ pieces }: Run) => deviation(logsOf(pieces, "doseFactor")),
        },
        {
          name: "spot",
          of: ({ spread }: Calibration) => spread.spot,
          truth: ({ pieces }: Run) => deviation(logsOf(pieces, "spotFactor")),
        },
      ]),
];

const shown = (value: number) => value.toPrecision(3);
const runs: Run[] = [];
const rows: string[][] = [];
for (let n = Number(given.from); n < Number(given.from) + Number(given.cards); n++) {
  const done = await run(n);
  runs.push(done);
  rows.push([
    `${n}`,
    done.name,
    ...FIGURES.map(({ of, truth }) => {
      const { value, low, high, learnt } = of(done.calibration);
      return `${shown(truth(done))}: ${learnt ? shown(value) : "not learnt"} (${shown(low)} to ${shown(high)})`;
    }),
    done.ms.toFixed(0),
  ]);
  process.stderr.write(`${rows[rows.length - 1].join(" | ")}\n`);
}
console.log(`${markdownTable(["card", "material", ...FIGURES.map(({ name }) => name), "ms"], rows)}\n`);
const summary = FIGURES.map(({ name, of, truth }) => {
  const all = runs.map((each) => ({ ...of(each.calibration), right: truth(each) }));
  const learnt = all.filter((each) => each.learnt);
  const near = learnt.filter(({ value, right }) => Math.abs(value / right - 1) < 1 / 3);
  const held = all.filter(({ low, high, right }) => low <= right && right <= high);
  const mean = learnt.reduce((sum, { value, right }) => sum + value / right, 0) / learnt.length;
  return [name, `${learnt.length} of ${all.length}`, `${near.length}`, mean.toFixed(2), `${held.length}`];
});
console.log(
  markdownTable(
    ["part", "learnt", "of these within a third", "mean share of the truth", "band holds"],
    summary,
  ),
);
