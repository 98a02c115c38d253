import { afterEach, expect, it, vi } from "vitest";
import { packBitmap, unpackBitmap } from "../../../src/core/packed-bits.js";
import { seededRandom } from "../../../src/core/random.js";
import { resolveOptions } from "../../../src/options/options.js";
import { createJob } from "../../../src/pipeline/job.js";
import { searchPiece } from "../../../src/pipeline/search/search-piece.js";
import { gradualPoints } from "../../support/materials.js";

const SIDE = 72;
const PASSES = 5;

afterEach(() => {
  vi.restoreAllMocks();
});

/** The bitmap of a search whose time is up after so many passes, by a clock of our own. */
async function searched(passes: number) {
  let nowMs = 0;
  vi.spyOn(performance, "now").mockImplementation(() => nowMs);
  const material = { name: "board", response: gradualPoints, bareColor: "#808080", markedColor: "#404040" };
  const asked = { linesPerInch: 508, spotMm: 0.115, material: { ...material, source: "made up" } };
  const random = seededRandom(3);
  const codes = Uint8Array.from({ length: SIDE * SIDE }, () => (random() < 0.5 ? 1 : 0));
  const bitmap = packBitmap(codes, SIDE, SIDE, 2);
  const tones = (y: number) => Uint16Array.from({ length: SIDE }, (_, x) => 30000 - 180 * x + 40 * y);
  const outcome = await searchPiece(
    createJob(resolveOptions(asked)),
    { size: { widthMm: 3.6, heightMm: 3.6 }, codes: tones, bitmap },
    {
      ...{ aim: "nominal", seconds: 10, threads: 1 },
      onProgress: (share) => {
        if (share > (passes - 0.5) / PASSES) nowMs = 1e6;
      },
    },
  );
  return { bits: unpackBitmap(bitmap), passes: outcome.passes };
}

it("a search whose time is up keeps what it had when it last saw the piece from its distance", async () => {
  const [one, two, three, all] = [await searched(1), await searched(2), await searched(3), await searched(5)];
  expect([one, two, three, all].map(({ passes }) => passes)).toEqual([1, 2, 2, 5]);
  // From near at first, from its distance, and from near again.
  expect(two.bits).not.toEqual(one.bits);
  expect(three.bits).toEqual(two.bits);
  expect(all.bits).not.toEqual(two.bits);
});
