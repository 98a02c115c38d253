import { describe, expect, it } from "vitest";
import type { PixelDose, SearchModel, SearchTile } from "../../src/4-search/search-model.js";
import { TileSearch } from "../../src/4-search/tile-search.js";
import { type Random, seededRandom } from "../../src/core/random.js";

const COLUMNS = 14;
const ROWS = 12;

/** A separable mark, lopsided along the line as with a firing lag. */
function pixelDose(samples: number, lean: number): PixelDose {
  const [reachAlong, reachAcross] = [2, 1];
  const profile = (reach: number, middle: number, width: number) =>
    Float64Array.from({ length: (2 * reach + 1) * samples }, (_, i) => {
      const at = (i + 0.5) / samples - reach - 0.5 - middle;
      return Math.exp(-((at / width) ** 2)) / (width * Math.sqrt(Math.PI));
    });
  const along = profile(reachAlong, lean, 0.9);
  const across = profile(reachAcross, 0, 0.7);
  const dose = Float64Array.from({ length: along.length * across.length }, (_, k) => {
    return across[Math.floor(k / along.length)] * along[k % along.length];
  });
  return { reachAlong, reachAcross, dose };
}

function model(levels: number): SearchModel {
  const stepsPerDose = 64;
  const steep = (dose: number) => 0.6 - 0.5 / (1 + Math.exp(-12 * (dose - 0.5)));
  const seen = Float64Array.from({ length: ROWS * COLUMNS }, (_, k) => {
    const square = Math.floor(k / COLUMNS) ** 2 + (k % COLUMNS) ** 2;
    return 3 / (2 * Math.PI * (9 + square) ** 1.5);
  });
  return {
    ...{
      samplesAlong: 3,
      samplesAcross: 3,
      levels,
      evenLines: pixelDose(3, 0.2),
      oddLines: pixelDose(3, -0.3),
    },
    surface: {
      stepsPerDose,
      luminance: Float64Array.from({ length: 4 * stepsPerDose }, (_, i) => steep(i / stepsPerDose)),
    },
    eye: { columns: COLUMNS, rows: ROWS, seen },
  };
}

function tile(random: Random, levels: number, cases: number): SearchTile {
  const plane = (value: () => number) => Float64Array.from({ length: COLUMNS * ROWS }, value);
  return {
    ...{ columns: COLUMNS, rows: ROWS, firstRow: 5 },
    codes: Uint8Array.from(plane(() => Math.floor(levels * random()))),
    free: new Uint8Array(COLUMNS * ROWS).fill(1),
    targets: Array.from({ length: cases }, () => plane(() => 0.1 + 0.5 * random())),
    slope: plane(() => (random() < 0.1 ? 0 : 20 + 80 * random())),
  };
}

describe("a change of a bitmap", () => {
  const cases = [
    { dose: 0.9, share: 0.3 },
    { dose: 1.1, share: 0.7 },
  ];

  it.each([2, 4])("changes J by what J is afterwards, by its definition: %d levels", (levels) => {
    const random = seededRandom(7);
    const made = tile(random, levels, 2);
    const search = new TileSearch(model(levels), made, cases);
    const below = (most: number) => Math.floor(most * random());
    let lower = 0;
    for (let trial = 0; trial < 200; trial++) {
      const [x, y] = [below(COLUMNS), below(ROWS)];
      const [otherX, otherY] = [x + below(3) - 1, y + below(3) - 1];
      const code = made.codes[y * COLUMNS + x];
      const step = code === 0 || (code < levels - 1 && random() < 0.5) ? 1 : -1;
      const isInside = otherX >= 0 && otherY >= 0 && otherX < COLUMNS && otherY < ROWS;
      const otherCode = isInside ? made.codes[otherY * COLUMNS + otherX] - step : -1;
      const isSwap = otherCode >= 0 && otherCode < levels && (otherX !== x || otherY !== y);
      const change: [number, number, number, number?, number?] = isSwap
        ? [x, y, step, otherX, otherY]
        : [x, y, step];
      const before = search.cost();
      const gain = search.gain(...change);
      search.accept(...change);
      const after = search.cost();
      if (gain < 0) {
        lower++;
        expect(Math.abs(after - before - gain)).toBeLessThan(1e-9 * before);
      } else {
        // Only the part that is linear: no change with that can lower J.
        expect(after - before).toBeGreaterThanOrEqual(gain - 1e-9 * before);
      }
    }
    expect(lower).toBeGreaterThan(50);
  });
});
