import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import {
  allTiles,
  type JudgedTile,
  type JudgedTiles,
  reachOf,
  sampledTiles,
} from "../../src/5-burn/judged-tiles.js";
import { visualErrorOf } from "../../src/5-burn/sampled-error.js";
import { type PlacedBitmap, TileJudge } from "../../src/5-burn/tile-judge.js";
import { visualErrors } from "../../src/5-burn/visual-error.js";
import { createResponse } from "../../src/core/material/response.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import { steepPoints } from "../support/materials.js";
import { ideal, luminanceOf, plainMemory, simdMemory, square } from "./burning.js";

const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };
const pitch = square(0.05);
const response = createResponse(steepPoints);
const motion = { ...ideal, firingLagUs: 40, lineShiftMm: 0.02 };
const plan = planExposure(pitch, { alongMm: 0.09, acrossMm: 0.12 }, motion);
const doses = [1, 0.9, 1.1];

/** A tone that drifts over the picture, as bits at random and as what was wanted; and other bits. */
function picture(columns: number, rows: number) {
  const random = seededRandom(columns);
  const tone = (i: number): number =>
    0.4 + 0.3 * Math.sin(0.004 * (i % columns)) * Math.cos(0.005 * Math.floor(i / columns));
  const wanted = Float32Array.from({ length: columns * rows }, (_, i) => 0.55 - 0.4 * tone(i));
  const bits = Uint8Array.from(wanted, (_, i) => (random() < tone(i) ? 1 : 0));
  const others = Uint8Array.from(wanted, () => (random() < 0.4 ? 1 : 0));
  return { columns, rows, wanted, bits, others };
}

type Picture = ReturnType<typeof picture>;

function judged(
  given: Picture,
  tiles: JudgedTiles,
  place: (bits: Uint8Array, tile: JudgedTile) => PlacedBitmap,
  memory = simdMemory,
) {
  const release = memory.mark();
  const exposures = [doses, [1]].map((each) => ({ plan, doses: each }));
  const judge = new TileJudge({ memory, response, pitch, viewing }, exposures, tiles.sidePx);
  for (const tile of tiles.tiles) {
    const { left, top, columns, rows } = tile.seen;
    const wanted = Float32Array.from(
      { length: columns * rows },
      (_, i) => given.wanted[(top + Math.floor(i / columns)) * given.columns + left + (i % columns)],
    );
    judge.judge(tile, wanted, [place(given.bits, tile), place(given.others, tile)]);
  }
  release();
  return [0, 1, 2, 3].map((k) => visualErrorOf(judge.sums(), tiles.strata, k));
}

const whole =
  ({ columns, rows }: Picture) =>
  (bits: Uint8Array): PlacedBitmap => ({ bitmap: packBitmap(bits, columns, rows), left: 0, top: 0 });

/** Nothing but the burned part of a tile. */
const cropped =
  ({ columns }: Picture) =>
  (bits: Uint8Array, { burned }: JudgedTile): PlacedBitmap => {
    const part = Uint8Array.from(
      { length: burned.columns * burned.rows },
      (_, i) =>
        bits[(burned.top + Math.floor(i / burned.columns)) * columns + burned.left + (i % burned.columns)],
    );
    const { left, top } = burned;
    return { bitmap: packBitmap(part, burned.columns, burned.rows), left, top };
  };

function inOneGo({ columns, rows, wanted, bits, others }: Picture) {
  const predictions = [
    ...doses.map((dose) => luminanceOf(plan, response, bits, columns, rows, dose)),
    luminanceOf(plan, response, others, columns, rows),
  ];
  return visualErrors(predictions, wanted, columns, { pitch, viewing, memory: simdMemory });
}

describe("a picture judged tile by tile", () => {
  it.each([
    [3, 5],
    [101, 83],
    [1103, 301],
    [357, 990],
  ])("of %d × %d pixels has the visual errors of its whole planes, to the bit", (columns, rows) => {
    const given = picture(columns, rows);
    const tiles = allTiles({ columns, rows }, reachOf(plan));
    const expected = inOneGo(given).map(({ rms, bias }) => ({
      rms,
      bias,
      rmsStandardError: 0,
      biasStandardError: 0,
    }));
    expect(judged(given, tiles, whole(given))).toEqual(expected);
    expect(judged(given, tiles, cropped(given))).toEqual(expected);
  });

  it("is the same to the bit in both forms of the kernels", () => {
    const given = picture(101, 83);
    const tiles = allTiles({ columns: 101, rows: 83 }, reachOf(plan));
    expect(judged(given, tiles, whole(given), plainMemory)).toEqual(judged(given, tiles, whole(given)));
  });
});

describe("a picture judged by a sample", () => {
  it("comes out within three standard errors of the whole, which are small", () => {
    const given = picture(1900, 1500);
    const sample = sampledTiles({ columns: 1900, rows: 1500 }, reachOf(plan), { sidePx: 256, wantedPx: 2e5 });
    expect(sample.share).toBeLessThan(0.15);
    const errors = judged(given, sample, whole(given));
    inOneGo(given).forEach(({ rms, bias }, k) => {
      const estimate = errors[k];
      expect(estimate.rmsStandardError).toBeLessThan(0.3 * rms);
      expect(Math.abs(estimate.rms - rms)).toBeLessThan(3 * estimate.rmsStandardError);
      expect(Math.abs(estimate.bias - bias)).toBeLessThan(3 * estimate.biasStandardError);
    });
  });
});
