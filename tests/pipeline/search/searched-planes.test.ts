import { describe, expect, it } from "vitest";
import { MOVES, STAYS, SWAPS } from "../../../src/4-search/search-model.js";
import { packBitmap, unpackBitmap } from "../../../src/core/packed-bits.js";
import { seededRandom } from "../../../src/core/random.js";
import { resolveOptions } from "../../../src/options/options.js";
import { createJob } from "../../../src/pipeline/job.js";
import { searchPlan } from "../../../src/pipeline/search/search-plan.js";
import { allowMoves, searchedPlanes, writeBitmap } from "../../../src/pipeline/search/searched-planes.js";
import { gradualPoints } from "../../support/materials.js";

const COLUMNS = 21;
const ROWS = 14;
const reach = { along: 3, across: 2 };
const codes = (y: number) => Uint16Array.from({ length: COLUMNS }, (_, x) => 1000 * (y + 1) + x);

function begin(levels: number, more: object = {}) {
  const random = seededRandom(5);
  const bits = Uint8Array.from({ length: COLUMNS * ROWS }, () => Math.floor(levels * random()));
  const bitmap = packBitmap(Uint8Array.from(bits), COLUMNS, ROWS, levels);
  const job = createJob(resolveOptions({ levels, ...more }));
  return { bits, bitmap, planes: searchedPlanes(job, { codes, bitmap }, reach) };
}

describe("a piece that is searched", () => {
  it.each([2, 5])("comes back as it was if nothing changes: %i power levels", (levels) => {
    const { bits, bitmap, planes } = begin(levels);
    bitmap.bytes.fill(0);
    writeBitmap(planes.codes, bitmap);
    expect([...unpackBitmap(bitmap)]).toEqual([...bits]);
  });

  it("stays as it is in a strip along its edges, as wide as a change reaches", () => {
    const { moves } = begin(2).planes;
    const at = (x: number, y: number) => y * COLUMNS + x;
    for (const [x, y] of [
      [reach.along, reach.across],
      [COLUMNS - 1 - reach.along, ROWS - 1 - reach.across],
    ]) {
      expect(moves[at(x, y)]).toBe(MOVES);
      expect(moves[at(x < 9 ? x - 1 : x + 1, y)]).toBe(STAYS);
      expect(moves[at(x, y < 9 ? y - 1 : y + 1)]).toBe(STAYS);
    }
  });

  it("clears fewer tints of lone dots away as it is seen from nearer", () => {
    const material = { name: "board", response: gradualPoints, bareColor: "#808080", markedColor: "#404040" };
    const asked = { linesPerInch: 508, spotMm: 0.115, material: { ...material, source: "made up" } };
    const job = createJob(resolveOptions(asked));
    const { modelFrom } = searchPlan(job, "nominal", { widthMm: 60, heightMm: 60 });
    const bitmap = packBitmap(new Uint8Array(256 * 8), 256, 8, 2);
    const tones = () => Uint16Array.from({ length: 256 }, (_, x) => 257 * x);
    const planes = searchedPlanes(job, { codes: tones, bitmap }, { along: 1, across: 1 });
    const [far, near] = [1, 2.5].map((nearness) => {
      allowMoves(planes, job.model, modelFrom(nearness));
      return planes.moves.filter((move) => move === SWAPS).length;
    });
    expect(far).toBeGreaterThan(0);
    expect(near).toBeGreaterThan(1.5 * far);
  });

  it("moves to both sides where a ring closes", () => {
    const { moves } = begin(2, { aroundMm: 3, linesPerInch: 254 }).planes;
    expect(moves[reach.across * COLUMNS]).toBe(MOVES);
    expect(moves[(reach.across - 1) * COLUMNS]).toBe(STAYS);
  });
});
