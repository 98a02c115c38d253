import { expect, it } from "vitest";
import { MOVES } from "../../../src/4-search/search-model.js";
import { seededRandom } from "../../../src/core/random.js";
import { resolveOptions } from "../../../src/options/options.js";
import { createJob } from "../../../src/pipeline/job.js";
import { type SearchAim, searchPlan } from "../../../src/pipeline/search/search-plan.js";
import { TileWork } from "../../../src/pipeline/search/tile-work.js";
import { toneFits } from "../../../src/pipeline/search/tone-fit.js";
import { gradualPoints } from "../../support/materials.js";

const SIDE = 120;
const core = { left: 0, top: 0, columns: SIDE, rows: SIDE };
const material = { name: "board", response: gradualPoints, bareColor: "#808080", markedColor: "#404040" };

function begin(aim: SearchAim) {
  const asked = { linesPerInch: 508, spotMm: 0.115, material: { ...material, source: "made up" } };
  const job = createJob(resolveOptions(asked));
  const plan = searchPlan(job, aim, { widthMm: 60, heightMm: 60 });
  const random = seededRandom(9);
  const places = Array.from({ length: SIDE * SIDE }, (_, at) => [at % SIDE, Math.floor(at / SIDE)] as const);
  const planes = {
    ...{ columns: SIDE, rows: SIDE, closed: false },
    codes: Uint8Array.from(places, ([x]) => (random() < 0.2 + (0.6 * x) / SIDE ? 1 : 0)),
    after: new Uint8Array(SIDE * SIDE),
    wanted: Uint16Array.from(places, ([x, y]) => 30000 - 180 * x + 40 * y),
    moves: new Uint8Array(SIDE * SIDE).fill(MOVES),
  };
  return { plan, planes, work: new TileWork(job, plan, planes) };
}

const still = { left: 0, right: 0, top: 0, bottom: 0 };
const none = { offset: 0, slope: 0 };

it("what a search says that it gained is what the error of the exposure fell by, seen by the eye", () => {
  const { planes, work, plan } = begin("nominal");
  const before = work.measure(core, 1);
  // So few pixels move that what one changes for another is known.
  planes.moves.fill(0);
  for (let y = 20; y < SIDE - 20; y += 10)
    for (let x = 20; x < SIDE - 20; x += 10) planes.moves[y * SIDE + x] = MOVES;
  const { gain, changes } = work.search({
    core,
    still,
    fits: plan.doses.map(() => none),
    nearness: 1,
    sweeps: 1,
  });
  planes.codes.set(planes.after);
  const fell = before.squares[0] - work.measure(core, 1).squares[0];
  expect(changes).toBeGreaterThan(15);
  // The search has four samples to a spot, and lightness is taken as linear around what is wanted.
  expect(-gain / fell).toBeGreaterThan(0.9);
  expect(-gain / fell).toBeLessThan(1.1);
});

it("a robust search lowers what it aims at", () => {
  const { plan, planes, work } = begin("robust");
  // Section 13: at the outer doses a third of the tone shift counts. What varies within the piece is left out here.
  const look = () => {
    const sums = work.measure(core, 1);
    const fits = toneFits([sums]);
    const mean = sums.wanted / sums.pixels;
    const variance = sums.wantedSquares / sums.pixels - mean ** 2;
    const cost = fits.reduce((total, { offset, slope }, k) => {
      const shift = (offset + slope * mean) ** 2 + slope ** 2 * variance;
      return total + plan.shares[k] * (sums.squares[k] / sums.pixels - plan.shiftsLeftOut[k] * shift);
    }, 0);
    return { cost, fits };
  };
  const first = look();
  work.search({ core, still, fits: first.fits, nearness: 1, sweeps: 2 });
  planes.codes.set(planes.after);
  expect(first.cost / look().cost).toBeGreaterThan(3);
});
