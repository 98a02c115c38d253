/**
 * The whole loop on virtual machines that nobody knows: a card is made, engraved and photographed by the code of tests/reference, and
 * calibrated. How far the answer is off, how often its bands hold, and what a photo engraved on the true machine loses by it, in Markdown:
 * `npm run bench:loop`. `--cards 100`, `--first 1`; `--keep DIR` keeps the pictures for the next run; `--trips 8` round trips;
 * `--seeds 1,5,9` in place of `--first` and `--cards`; `--size 40x30`; `--slow` for a second card at half the speed; `--two` for two
 * exposures of every card, as reports ask for where nobody knows the camera; `--swap` for round trips with one true file and one learnt;
 * `--plain` for perfect pictures; `--list` for every card.
 */
import { parseArgs } from "node:util";
import { createResponse, luminanceFactorAt } from "../../src/core/material/response.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import { type Calibrated, calibrate, SpotpitchError } from "../../src/index.js";
import { markdownTable } from "../table.js";
import { plannedTrip, roundTrip } from "./round-trip.js";
import { drawWorkshop, picturesOf, type Workshop } from "./workshop.js";

const { values: given } = parseArgs({
  options: {
    cards: { type: "string", default: "100" },
    first: { type: "string", default: "1" },
    seeds: { type: "string" },
    two: { type: "boolean", default: false },
    swap: { type: "boolean", default: false },
    trips: { type: "string", default: "8" },
    keep: { type: "string" },
    size: { type: "string", default: "80x60" },
    slow: { type: "boolean", default: false },
    plain: { type: "boolean", default: false },
    list: { type: "boolean", default: false },
  },
});

interface Run extends Workshop {
  readonly learnt: Calibrated | undefined;
  readonly refusal: string;
  readonly ms: number;
}

async function runOne(workshop: Workshop): Promise<Run> {
  const card = { size: given.size, isSlowToo: given.slow };
  const pictures = (await picturesOf(workshop, card, given.keep)).map((bytes) => ({
    bytes,
    fileName: "card.jpg",
  }));
  const start = performance.now();
  const { surface, guessMm } = workshop;
  try {
    const options = { material: surface.preset, bareLuminance: surface.response[0][1], spotMm: guessMm };
    const learnt = await calibrate(pictures, options);
    return { ...workshop, learnt, refusal: "", ms: performance.now() - start };
  } catch (error) {
    if (!(error instanceof SpotpitchError)) throw error;
    const refusal = error.refusal?.id ?? error.code;
    return { ...workshop, learnt: undefined, refusal, ms: performance.now() - start };
  }
}

interface Band {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly learnt: boolean;
}

interface Figure {
  readonly name: string;
  readonly of: (learnt: Calibrated) => Band;
  readonly truth: (engraving: Workshop["engraving"]) => number;
  readonly unit: "share" | number;
  /** What a machine's owner needs, in the unit. A card tells it where the middle 90 % of a normal distribution lie within 1.645 times that. */
  readonly wanted: number;
}

const FIGURES: readonly Figure[] = [
  {
    name: "spot along",
    of: (l) => l.calibration.spotAlongMm,
    truth: (e) => e.spotAlongMm,
    unit: "share",
    wanted: 5,
  },
  {
    name: "spot across",
    of: (l) => l.calibration.spotAcrossMm,
    truth: (e) => e.spotAcrossMm,
    unit: "share",
    wanted: 5,
  },
  {
    name: "loss, µs",
    of: (l) => l.calibration.firingLossUs,
    truth: (e) => e.firingLossUs,
    unit: 1,
    wanted: 5,
  },
  { name: "lag, µs", of: (l) => l.calibration.firingLagUs, truth: (e) => e.firingLagUs, unit: 1, wanted: 15 },
  {
    name: "line shift, µm",
    of: (l) => l.calibration.lineShiftMm,
    truth: (e) => e.lineShiftMm,
    unit: 1000,
    wanted: 10,
  },
  {
    name: "local",
    of: (l) => l.calibration.spread.local,
    truth: (e) => e.spread.local,
    unit: "share",
    wanted: 33,
  },
  {
    name: "line",
    of: (l) => l.calibration.spread.line,
    truth: (e) => e.spread.line,
    unit: "share",
    wanted: 33,
  },
];

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const rms = (values: readonly number[]) => Math.sqrt(mean(values.map((value) => value ** 2)));

/** The value below which this share of the values lies. */
function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

const summary = (off: readonly number[], digits: number): string[] =>
  [rms(off), quantile(off, 0.5), quantile(off, 0.9), Math.max(...off)].map((each) => each.toFixed(digits));

type Learnt = Run & { readonly learnt: Calibrated };

/** L* of the material file against the true response, up to dose 1 or the end of the curve. */
function responseOff({ learnt, engraving }: Pick<Learnt, "learnt" | "engraving">): number {
  const [found, truth] = [learnt.material.response, engraving.response].map((each) => createResponse(each));
  const end = Math.min(1, learnt.material.response[learnt.material.response.length - 1][0]);
  const doses = Array.from({ length: 41 }, (_, k) => (end * k) / 40);
  const lightness = (response: typeof found, dose: number) =>
    lightnessFromLuminance(luminanceFactorAt(response, dose));
  return rms(doses.map((dose) => lightness(found, dose) - lightness(truth, dose)));
}

/** Share of doses at which the band of the response holds the truth. */
function responseHeld({ learnt, engraving }: Pick<Learnt, "learnt" | "engraving">): number {
  const truth = createResponse(engraving.response);
  const within = learnt.calibration.response
    .filter(({ dose }) => dose <= 1)
    .map(({ dose, low, high }) => {
      const luminance = luminanceFactorAt(truth, dose);
      return luminance >= low && luminance <= high ? 1 : 0;
    });
  return mean(within);
}

function figureRow(runs: readonly Learnt[], { name, of, truth, unit, wanted }: Figure): string[] {
  const known = runs.filter(({ learnt }) => of(learnt).learnt);
  const off = known.map(({ learnt, engraving }) => {
    const away = Math.abs(of(learnt).value - truth(engraving));
    return unit === "share" ? (100 * away) / truth(engraving) : unit * away;
  });
  const held = runs.map(({ learnt, engraving }) => {
    const { low, high } = of(learnt);
    return truth(engraving) >= low && truth(engraving) <= high ? 1 : 0;
  });
  const title = unit === "share" ? `${name}, %` : name;
  const told = off.filter((_, k) => {
    const { learnt, engraving } = known[k];
    const { low, high } = of(learnt);
    const half = (high - low) / 2;
    return (unit === "share" ? (100 * half) / truth(engraving) : unit * half) <= 1.645 * wanted;
  });
  const toldWords = `${wanted}: ${told.length}, ${told.length > 0 ? rms(told).toFixed(1) : "–"}`;
  return [title, `${known.length}`, ...summary(off, 1), (100 * mean(held)).toFixed(0), toldWords];
}

function listRow(run: Run): string[] {
  const { seed, surface, engraving, guessMm, learnt, refusal, ms, camera } = run;
  const cells = FIGURES.map(({ of, truth, unit }) => {
    const right = truth(engraving);
    if (!learnt) return `${right.toFixed(3)}`;
    const { value, low, high, learnt: isLearnt } = of(learnt);
    const shown = (each: number) => (unit === "share" ? each.toFixed(4) : (unit * each).toFixed(1));
    return `${shown(right)}: ${shown(value)} (${shown(low)}…${shown(high)})${isLearnt ? "" : " not learnt"}`;
  });
  const off = learnt ? responseOff({ learnt, engraving }).toFixed(2) : refusal;
  const held = learnt ? `${(100 * responseHeld({ learnt, engraving })).toFixed(0)} %` : "";
  const first = `${seed} ${surface.name} ${guessMm} ${camera.curve ?? ""}`;
  return [first, off, ...cells, (ms / 1000).toFixed(1), held];
}

const seeds =
  given.seeds?.split(",").map(Number) ??
  Array.from({ length: Number(given.cards) }, (_, k) => Number(given.first) + k);
const runs: Run[] = [];
for (const seed of seeds) {
  const run = await runOne(drawWorkshop(seed, given));
  runs.push(run);
  if (given.list) console.log(listRow(run).join(" | "));
}
const read = runs.filter((run): run is Learnt => run.learnt !== undefined);
const refused = runs.filter(({ learnt }) => learnt === undefined);
console.log(
  `\n${read.length} cards of ${given.size} mm${given.slow ? ", each also at half the speed," : ""} read, ${refused.length} refused: ${refused.map(({ seed, refusal }) => `${seed} ${refusal}`).join(", ") || "none"}\n`,
);
const offs = read.map(responseOff);
console.log(
  markdownTable(
    [
      ...["deviation", "learnt", "rms", "median", "90 % below", "largest", "band holds, %"],
      "wanted: told by so many, and rms there",
    ],
    [
      [
        "response, L*",
        `${read.length}`,
        ...summary(offs, 2),
        (100 * mean(read.map(responseHeld))).toFixed(0),
        "2",
      ],
      ...FIGURES.map((figure) => figureRow(read, figure)),
    ],
  ),
);
console.log(
  `\nMedian time of a picture: ${(
    quantile(
      runs.map(({ ms }) => ms),
      0.5,
    ) / 1000
  ).toFixed(1)} s.\n`,
);
const trips = [];
for (const run of read.slice(0, Number(given.trips))) {
  trips.push({ run, errors: await roundTrip(run, given.swap), planned: await plannedTrip(run) });
}
console.log(
  markdownTable(
    [
      ...["round trip", "true files", "learnt", "preset"],
      ...(given.swap ? ["true response", "true machine"] : []),
      ...["learnt / true", "plan, rows apart", "useful tones there"],
    ],
    trips.map(({ run, errors, planned }) => [
      `${run.seed} ${run.surface.name} ${run.camera.curve ?? ""}`,
      ...errors.map((each) => each.toFixed(2)),
      (errors[1] / errors[0]).toFixed(2),
      `${planned.rowsApart}`,
      planned.usefulTones.map((each) => each.toFixed(1)).join(" → "),
    ]),
  ),
);
