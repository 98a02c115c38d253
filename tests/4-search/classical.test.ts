import { describe, expect, it } from "vitest";
import { type MarkProfile, MOVES, type SearchModel, STAYS } from "../../src/4-search/search-model.js";
import { NONE } from "../../src/4-search/search-state.js";
import { TileSearch } from "../../src/4-search/tile-search.js";
import { seededRandom } from "../../src/core/random.js";

/*
 * With a response that follows the dose and a spot of one pixel, a search through the burn is classical direct binary search. Its
 * formulas: M. Analoui, J. P. Allebach, "Model-based halftoning using direct binary search", Proc. SPIE 1666, 1992.
 */

const SIDE = 40;
const MARGIN = 1;
const WIDTH = 2.2;

const pixel: MarkProfile = { before: 0, after: 0, dose: Float64Array.of(1) };
const kernel = (right: number, down: number): number =>
  Math.exp(-(right ** 2 + down ** 2) / (2 * WIDTH ** 2));

const model: SearchModel = {
  ...{ samplesAlong: 1, samplesAcross: 1, evenLines: pixel, oddLines: pixel, across: pixel, levels: 2 },
  ...{ stepsPerDose: 1, steps: 2, surface: [Float64Array.of(0, 1, 2)], coupling: Float64Array.of(1) },
  eye: {
    reachAlong: SIDE - 1,
    reachAcross: SIDE - 1,
    seen: Float64Array.from({ length: SIDE * SIDE }, (_, k) => kernel(k % SIDE, Math.floor(k / SIDE))),
    seenRight: new Float64Array(SIDE * SIDE),
    seenDown: new Float64Array(SIDE * SIDE),
  },
};

/** A ramp from 0.1 to 0.9, begun with white noise. */
function begin() {
  const random = seededRandom(11);
  const places = Array.from({ length: SIDE * SIDE }, (_, at) => [at % SIDE, Math.floor(at / SIDE)] as const);
  const wanted = places.map(([x]) => 0.1 + (0.8 * x) / (SIDE - 1));
  const codes = Uint8Array.from(wanted, (tone) => (random() < tone ? 1 : 0));
  const pullAt = (now: Uint8Array, x: number, y: number): number =>
    places.reduce(
      (sum, [u, v], at) => sum + (now[at] - wanted[at]) * kernel(Math.abs(u - x), Math.abs(v - y)),
      0,
    );
  const isInner = (at: number) => at >= MARGIN && at < SIDE - MARGIN;
  const moves = Uint8Array.from(places, ([x, y]) => (isInner(x) && isInner(y) ? MOVES : STAYS));
  const pull = [Float64Array.from(places, ([x, y]) => pullAt(codes, x, y))];
  const weight = new Float64Array(SIDE * SIDE).fill(1);
  const search = new TileSearch(
    model,
    { columns: SIDE, rows: SIDE, firstRow: 0, codes, moves, weight, pull },
    SIDE,
  );
  return { search, moves, pullAt };
}

describe("with a spot of one pixel and a response that follows the dose", () => {
  it("changes J by the formulas of direct binary search", () => {
    const { search, pullAt } = begin();
    const { codes } = search;
    let checked = 0;
    for (let at = MARGIN; at < SIDE - MARGIN - 1; at++) {
      const [x, y, otherX] = [at, at, at + 1];
      const step = codes[y * SIDE + x] === 0 ? 1 : -1;
      const toggle = kernel(0, 0) + 2 * step * pullAt(codes, x, y);
      const limit = Number.POSITIVE_INFINITY;
      expect(search.gain(limit, { x, y, step, otherX: NONE, otherY: NONE })).toBeCloseTo(toggle, 9);
      if (codes[y * SIDE + otherX] === codes[y * SIDE + x]) continue;
      const swap =
        2 * (kernel(0, 0) - kernel(1, 0)) + 2 * step * (pullAt(codes, x, y) - pullAt(codes, otherX, y));
      expect(search.gain(limit, { x, y, step, otherX, otherY: y })).toBeCloseTo(swap, 9);
      checked++;
    }
    expect(checked).toBeGreaterThan(5);
  });

  /** J.-R. Liao, "Theoretical bounds of direct binary search halftoning", IEEE Trans. Image Processing 24(11), 2015. */
  it("ends where no pull exceeds half of the kernel's peak", () => {
    const { search, moves, pullAt } = begin();
    let sweeps = 0;
    while (search.sweep().changes > 0 && sweeps < 60) sweeps++;
    expect(sweeps).toBeGreaterThan(2);
    // A pixel may rest unvisited while its pull moves by less than it was short of a change: visit all once more.
    const again = new TileSearch(
      model,
      {
        ...{ columns: SIDE, rows: SIDE, firstRow: 0, codes: search.codes, moves },
        weight: new Float64Array(SIDE * SIDE).fill(1),
        pull: [search.pull],
      },
      SIDE,
    );
    while (again.sweep().changes > 0 && sweeps < 60) sweeps++;
    expect(sweeps).toBeLessThan(60);
    const limit = kernel(0, 0) / 2 + 1e-9;
    const far = 4 * WIDTH;
    let inner = 0;
    for (const at of [...moves.keys()].filter((each) => moves[each] === MOVES)) {
      const [x, y] = [at % SIDE, Math.floor(at / SIDE)];
      const pull = pullAt(again.codes, x, y);
      // A pixel that could go where it is pulled has gone.
      expect(again.codes[at] === 0 ? -pull : pull).toBeLessThanOrEqual(limit);
      // The noise along the edges stays, and pulls.
      if (Math.min(x, y, SIDE - 1 - x, SIDE - 1 - y) < far) continue;
      expect(Math.abs(pull)).toBeLessThanOrEqual(limit);
      inner++;
    }
    expect(inner).toBeGreaterThan(300);
  });
});
