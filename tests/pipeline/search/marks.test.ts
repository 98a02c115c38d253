import { expect, it } from "vitest";
import { STAYS } from "../../../src/4-search/search-model.js";
import { TileSearch } from "../../../src/4-search/tile-search.js";
import { planExposure } from "../../../src/5-burn/exposure-plan.js";
import { predictBitmap } from "../../../src/5-burn/predict.js";
import { packBitmap } from "../../../src/core/packed-bits.js";
import { seededRandom } from "../../../src/core/random.js";
import { type PrepareOptions, resolveOptions } from "../../../src/options/options.js";
import { createJob } from "../../../src/pipeline/job.js";
import { searchPlan } from "../../../src/pipeline/search/search-plan.js";
import { gradualPoints } from "../../support/materials.js";

const COLUMNS = 60;
const ROWS = 48;
const MARGIN = 14;

const material = { name: "board", response: gradualPoints, bareColor: "#808080", markedColor: "#404040" };

it.each<[string, PrepareOptions]>([
  ["a round spot", {}],
  ["an elliptical spot", { spotMm: { alongMm: 0.08, acrossMm: 0.15 } }],
  ["lines that stand apart", { linesPerInch: 254 }],
  ["pixels that are longer than high", { linesPerInchAlong: 300 }],
  ["a firing lag", { firingLagUs: 60, speedMmPerS: 300 }],
  ["lines that are shifted", { lineShiftMm: 0.03 }],
  ["bursts that are shorter", { firingLossUs: 33, speedMmPerS: 300 }],
  ["bursts that are shorter by more than a pixel", { firingLossUs: 200, speedMmPerS: 300 }],
  ["bursts that are longer", { firingLossUs: -40, speedMmPerS: 300 }],
  ["power levels and all faults", { levels: 5, firingLossUs: 30, firingLagUs: 40, lineShiftMm: 0.02 }],
])("a search sees the luminance factors that the exposure predicts, with %s", (_, more) => {
  const asked = { linesPerInch: 508, spotMm: 0.115, material: { ...material, source: "made up" }, ...more };
  const job = createJob(resolveOptions(asked));
  const { pitch, spot, motion, levels } = job.options;
  const model = searchPlan(job, "nominal", { widthMm: 60, heightMm: 60 }).modelFrom(1);
  const random = seededRandom(5);
  const codes = Uint8Array.from({ length: COLUMNS * ROWS }, () => Math.floor(levels * random()));
  const nothing = () => new Float64Array(COLUMNS * ROWS);
  const search = new TileSearch(
    model,
    {
      ...{ columns: COLUMNS, rows: ROWS, firstRow: 0, codes, weight: nothing(), pull: [nothing()] },
      moves: new Uint8Array(COLUMNS * ROWS).fill(STAYS),
    },
    0,
  );
  const plan = planExposure(pitch, spot, motion, { levels, refinement: 3 });
  const [predicted] = predictBitmap(
    { plan, response: job.model.response },
    packBitmap(codes, COLUMNS, ROWS, levels),
    [1],
  );
  let squares = 0;
  let count = 0;
  for (let y = MARGIN; y < ROWS - MARGIN; y++) {
    for (let x = MARGIN; x < COLUMNS - MARGIN; x++, count++) {
      squares += (search.luminance[y * COLUMNS + x] - predicted[y * COLUMNS + x]) ** 2;
    }
  }
  // Four samples to a spot instead of fifteen or more, and marks without their faint ends. A fault left out makes 0.02 or more.
  expect(Math.sqrt(squares / count)).toBeLessThan(0.01);
});
