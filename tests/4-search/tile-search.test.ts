import { describe, expect, it } from "vitest";
import { eyeKernel } from "../../src/4-search/eye-kernel.js";
import {
  type BurstMark,
  type LineMark,
  type MarkProfile,
  MOVES,
  type SearchModel,
  type SearchTile,
  STAYS,
} from "../../src/4-search/search-model.js";
import { NONE } from "../../src/4-search/search-state.js";
import { TileSearch } from "../../src/4-search/tile-search.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { type Random, seededRandom } from "../../src/core/random.js";

const COLUMNS = 22;
const ROWS = 16;
const REACH = 2;
const SAMPLES = 3;
const CASES = 2;
const WHOLE = Math.max(COLUMNS, ROWS);
const MARGIN = 5;

/** A lopsided mark, as with a firing lag. `from` is where it begins within its pixel. */
function profile(middle: number, width: number, samples: number, from = 0): MarkProfile {
  const dose = Float64Array.from({ length: (2 * REACH + 1) * samples }, (_, i) => {
    const at = (i + 0.5) / samples - REACH - 0.5 - middle;
    return ((1 - from) * Math.exp(-(((at - from / 2) / width) ** 2))) / (width * Math.sqrt(Math.PI));
  });
  return { before: REACH, after: REACH, dose };
}

/** With an end of nothing: it reaches further to one side, as behind a long lag. */
function longer(mark: MarkProfile, samples: number, side: "before" | "after"): MarkProfile {
  const more = 2;
  const dose = new Float64Array(mark.dose.length + more * samples);
  dose.set(mark.dose, side === "before" ? more * samples : 0);
  return { ...mark, [side]: mark[side] + more, dose };
}

function line(lean: number, samples: number, bursts?: Omit<BurstMark, "part">): LineMark {
  const mark = profile(lean, 0.9, samples);
  return bursts ? { ...mark, bursts: { ...bursts, part: profile(lean, 0.9, samples, 0.4).dose } } : mark;
}

/** Of one, two and three doses. */
const COUPLINGS = [[1.3], [0.4, -0.1, -0.1, 0.7], [0.5, 0, -0.2, 0, 0.6, 0, -0.2, 0, 0.4]];

interface Kind {
  readonly levels: number;
  readonly bursts?: Omit<BurstMark, "part" | "direction">;
  readonly leans?: boolean;
  /** Samples of a pixel in each direction, and number of doses. */
  readonly samples?: number;
  readonly cases?: number;
}

function model({ levels, bursts, leans = false, samples = SAMPLES, cases = CASES }: Kind): SearchModel {
  const [stepsPerDose, steps] = [64, 256];
  const steep = (dose: number) => 0.6 - 0.5 / (1 + Math.exp(-12 * (dose - 0.5)));
  const seen = Float64Array.from({ length: WHOLE * WHOLE }, (_, k) => {
    const square = Math.floor(k / WHOLE) ** 2 + (k % WHOLE) ** 2;
    return 3 / (2 * Math.PI * (9 + square) ** 1.5);
  });
  const nothing = new Float64Array(seen.length);
  return {
    ...{ samplesAlong: samples, samplesAcross: samples, levels, stepsPerDose, steps },
    coupling: Float64Array.from(COUPLINGS[cases - 1]),
    evenLines: leans
      ? longer(line(0.2, samples), samples, "after")
      : line(0.2, samples, bursts && { ...bursts, direction: 1 }),
    oddLines: leans
      ? longer(line(-0.3, samples), samples, "before")
      : line(-0.3, samples, bursts && { ...bursts, direction: -1 }),
    across: profile(0, 0.7, samples),
    surface: [0.9, 1.1, 1]
      .slice(0, cases)
      .map((dose) => Float64Array.from({ length: steps + 1 }, (_, i) => steep((dose * i) / stepsPerDose))),
    eye: { reachAlong: WHOLE - 1, reachAcross: WHOLE - 1, seen, seenRight: nothing, seenDown: nothing },
  };
}

interface Piece extends SearchTile {
  readonly targets: readonly Float64Array[];
}

function piece(random: Random, { levels, cases = CASES }: Kind): Piece {
  const doses = Array.from({ length: cases });
  const plane = (value: () => number) => Float64Array.from({ length: COLUMNS * ROWS }, value);
  return {
    ...{ columns: COLUMNS, rows: ROWS, firstRow: 5 },
    codes: Uint8Array.from(plane(() => Math.floor(levels * random()))),
    moves: new Uint8Array(COLUMNS * ROWS).fill(MOVES),
    targets: doses.map(() => plane(() => 0.1 + 0.5 * random())),
    weight: plane(() => (random() < 0.1 ? 0 : 20 + 80 * random())),
    pull: doses.map(() => new Float64Array(COLUMNS * ROWS)),
  };
}

/** Pixels that may change. */
const inner = (): Uint8Array =>
  Uint8Array.from({ length: COLUMNS * ROWS }, (_, at) => {
    const [x, y] = [at % COLUMNS, Math.floor(at / COLUMNS)];
    const inside = x >= MARGIN && x < COLUMNS - MARGIN && y >= MARGIN && y < ROWS - MARGIN;
    return inside ? MOVES : STAYS;
  });

/** J by its definition, and the pulls that follow from it. The luminance factors are a new search's own. */
function bruteForce(
  given: SearchModel,
  made: Piece,
): { readonly cost: number; readonly pull: Float64Array[] } {
  const { luminance } = new TileSearch(given, { ...made, moves: inner() }, WHOLE);
  const errors = made.targets.map((target, k) =>
    target.map((wanted, at) => made.weight[at] * (luminance[k * COLUMNS * ROWS + at] - wanted)),
  );
  const acting = errors.map((_, k) =>
    errors[0].map((_, at) =>
      errors.reduce((sum, error, j) => sum + given.coupling[errors.length * k + j] * error[at], 0),
    ),
  );
  const seen = acting.map((plane) => plane.map((_, at) => seenFrom(given, plane, at)));
  const cost = errors.reduce(
    (sum, error, k) => sum + error.reduce((part, value, at) => part + value * seen[k][at], 0),
    0,
  );
  return { cost, pull: seen.map((plane) => plane.map((value, at) => made.weight[at] * value)) };
}

function seenFrom({ eye }: SearchModel, plane: Float64Array, from: number): number {
  return plane.reduce((sum, value, at) => {
    const right = Math.abs((at % COLUMNS) - (from % COLUMNS));
    const down = Math.abs(Math.floor(at / COLUMNS) - Math.floor(from / COLUMNS));
    return sum + value * eye.seen[down * WHOLE + right];
  }, 0);
}

describe("a change of a bitmap", () => {
  const kinds = [
    { name: "on and off", levels: 2 },
    { name: "four power levels", levels: 4 },
    { name: "one dose, two samples", levels: 2, cases: 1, samples: 2 },
    { name: "one dose, three samples", levels: 2, cases: 1, samples: 3 },
    { name: "three doses, four samples", levels: 2, cases: 3, samples: 4 },
    { name: "lines that lean opposite ways", levels: 2, leans: true },
    { name: "shorter bursts", levels: 2, bursts: { shortens: true, wholePx: 0 } },
    { name: "bursts shorter by more than a pixel", levels: 4, bursts: { shortens: true, wholePx: 1 } },
    { name: "longer bursts", levels: 2, bursts: { shortens: false, wholePx: 0 } },
    { name: "bursts longer by more than a pixel", levels: 4, bursts: { shortens: false, wholePx: 1 } },
  ];

  const forms = kinds.flatMap((kind) => (["simd", "plain"] as const).map((form) => ({ ...kind, form })));
  it.each(forms)("changes J by what J is afterwards, by its definition: $name, $form", (kind) => {
    const { levels, form } = kind;
    const random = seededRandom(7);
    const made = piece(random, kind);
    const given = model(kind);
    let { cost, pull } = bruteForce(given, made);
    const search = new TileSearch(given, { ...made, moves: inner(), pull }, WHOLE, createKernelMemory(form));
    const below = (most: number) => Math.floor(most * random());
    const lower = { one: 0, across: 0, along: 0 };
    for (let trial = 0; trial < 90; trial++) {
      const [x, y] = [MARGIN + below(COLUMNS - 2 * MARGIN), MARGIN + below(ROWS - 2 * MARGIN)];
      const [otherX, otherY] = [x + below(3) - 1, y + below(3) - 1];
      const code = search.codes[y * COLUMNS + x];
      const step = code === 0 || (code < levels - 1 && random() < 0.5) ? 1 : -1;
      const otherCode = search.codes[otherY * COLUMNS + otherX] - step;
      const isSwap = otherCode >= 0 && otherCode < levels && (otherX !== x || otherY !== y);
      const change = { x, y, step, otherX: isSwap ? otherX : NONE, otherY: isSwap ? otherY : NONE };
      const gain = search.gain(0, change);
      search.accept(change);
      const after = bruteForce(given, { ...made, codes: search.codes });
      if (gain < 0) {
        lower[isSwap ? (otherY === y ? "along" : "across") : "one"]++;
        expect(Math.abs(after.cost - cost - gain)).toBeLessThan(1e-9 * cost);
      } else {
        // Only the part that is linear: no change with that can lower J.
        expect(after.cost - cost).toBeGreaterThanOrEqual(gain - 1e-9 * cost);
      }
      ({ cost, pull } = after);
    }
    expect(Math.min(...Object.values(lower))).toBeGreaterThan(1);
    // After all these changes the pulls are still those of the definition.
    pull.forEach((plane, k) => {
      const largest = Math.max(...plane.map(Math.abs));
      plane.forEach((value, at) => {
        expect(Math.abs(search.pull[k * COLUMNS * ROWS + at] - value)).toBeLessThan(1e-9 * largest);
      });
    });
  });

  it.each(kinds)("is the same in both forms, to the bit: $name", (kind) => {
    const [simd, plain] = (["simd", "plain"] as const).map((form) => {
      const made = piece(seededRandom(3), kind);
      const given = model(kind);
      const { pull } = bruteForce(given, made);
      const search = new TileSearch(given, { ...made, moves: inner(), pull }, 2, createKernelMemory(form));
      const sweeps = [search.sweep(), search.sweep()];
      return { sweeps, codes: [...search.codes], luminance: [...search.luminance], pull: [...search.pull] };
    });
    expect(simd).toEqual(plain);
    expect(simd.sweeps[0].changes).toBeGreaterThan(20);
  });

  it("is refused if the eye's kernel does not reach from side to side of it", () => {
    const given = model({ levels: 2 });
    const small = { ...given, eye: { ...given.eye, reachAlong: 4 } };
    const made = { ...piece(seededRandom(3), { levels: 2 }), moves: inner() };
    expect(() => new TileSearch(small, made, WHOLE)).toThrow(/smaller than a change/);
  });

  it.each(["simd", "plain"] as const)(
    "pulls what lies further off by its sum and its first moment, within a part in fifty: %s",
    (form) => {
      const given = model({ levels: 2 });
      const decay = 1 / (2 * Math.PI * 1.5);
      const eye = eyeKernel({ alongMm: 1, acrossMm: 1 }, decay, { along: WHOLE, across: WHOLE });
      const made = { ...piece(seededRandom(5), { levels: 2 }), moves: inner() };
      const pulls = [WHOLE, 0].map((exactPx) => {
        const search = new TileSearch({ ...given, eye }, made, exactPx, createKernelMemory(form));
        search.accept({
          x: 9,
          y: 7,
          step: made.codes[7 * COLUMNS + 9] === 0 ? 1 : -1,
          otherX: NONE,
          otherY: NONE,
        });
        return search.pull.slice();
      });
      const [exact, far] = pulls;
      const largest = Math.max(...exact.map(Math.abs));
      let outside = 0;
      exact.forEach((value, at) => {
        expect(Math.abs(far[at] - value)).toBeLessThan(largest / 50);
        const [x, y] = [at % COLUMNS, Math.floor((at % (COLUMNS * ROWS)) / COLUMNS)];
        if (Math.max(Math.abs(x - 9), Math.abs(y - 7)) > 3 && Math.abs(value) > largest / 10) outside++;
      });
      expect(outside).toBeGreaterThan(20);
    },
  );

  it("is refused where it would reach beyond the tile", () => {
    const made = piece(seededRandom(3), { levels: 2 });
    expect(() => new TileSearch(model({ levels: 2 }), made, WHOLE)).toThrow(RangeError);
  });
});
