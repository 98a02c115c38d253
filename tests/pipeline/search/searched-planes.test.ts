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
  return { bits, bitmap, ...searchedPlanes(job, { codes, bitmap }, reach) };
}

describe("a piece that is searched", () => {
  it.each([2, 5])("comes back as it was if nothing changes: %i power levels", (levels) => {
    const { bits, bitmap, planes, margin } = begin(levels);
    bitmap.bytes.fill(0);
    writeBitmap(planes.codes, margin, bitmap);
    expect([...unpackBitmap(bitmap)]).toEqual([...bits]);
  });

  it("goes on beyond its edges as its mirror image, and its own edges move", () => {
    const { planes, margin } = begin(2);
    const { columns, wanted, moves } = planes;
    const at = (x: number, y: number) => (y + margin.across) * columns + x + margin.along;
    // Even and odd lines differ, so that the first stays even.
    expect(margin.across % 2).toBe(0);
    expect(wanted[at(-1, 4)]).toBe(wanted[at(0, 4)]);
    expect(wanted[at(-3, 4)]).toBe(wanted[at(2, 4)]);
    expect(wanted[at(COLUMNS + 1, 4)]).toBe(wanted[at(COLUMNS - 2, 4)]);
    expect(wanted[at(5, -2)]).toBe(wanted[at(5, 1)]);
    expect(wanted[at(-1, ROWS)]).toBe(wanted[at(0, ROWS - 1)]);
    for (const [x, y] of [
      [0, 0],
      [COLUMNS - 1, ROWS - 1],
    ]) {
      expect(moves[at(x, y)]).toBe(MOVES);
    }
    // The outermost strip of the margin, as wide as a change reaches.
    expect(moves[at(-margin.along + reach.along - 1, 4)]).toBe(STAYS);
    expect(moves[at(-margin.along + reach.along, 4)]).toBe(MOVES);
    expect(moves[at(5, -margin.across + reach.across - 1)]).toBe(STAYS);
    expect(moves[at(5, -margin.across + reach.across)]).toBe(MOVES);
  });

  it("clears fewer tints of lone dots away as it is seen from nearer", () => {
    const material = { name: "board", response: gradualPoints, bareColor: "#808080", markedColor: "#404040" };
    const asked = { linesPerInch: 508, spotMm: 0.115, material: { ...material, source: "made up" } };
    const job = createJob(resolveOptions(asked));
    const { modelFrom } = searchPlan(job, "nominal", { widthMm: 60, heightMm: 60 });
    const bitmap = packBitmap(new Uint8Array(256 * 8), 256, 8, 2);
    const tones = () => Uint16Array.from({ length: 256 }, (_, x) => 257 * x);
    const { planes } = searchedPlanes(job, { codes: tones, bitmap }, reach);
    const [far, near] = [1, 2.5].map((nearness) => {
      allowMoves(planes, job.model, modelFrom(nearness));
      return planes.moves.filter((move) => move === SWAPS).length;
    });
    expect(far).toBeGreaterThan(0);
    expect(near).toBeGreaterThan(1.5 * far);
  });

  it("has no margin where a ring closes", () => {
    const { planes, margin } = begin(2, { aroundMm: 3, linesPerInch: 254 });
    expect(margin.along).toBe(0);
    expect(planes.columns).toBe(COLUMNS);
    expect(planes.moves[(margin.across + 1) * COLUMNS]).toBe(MOVES);
  });
});
