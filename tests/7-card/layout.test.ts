import { describe, expect, it } from "vitest";
import { cardBitmap } from "../../src/7-card/card-bitmap.js";
import type { CardSpec } from "../../src/7-card/card-spec.js";
import { type CardLayout, cardLayout, type Patch } from "../../src/7-card/layout.js";
import { cornersOf, frameOf } from "../../src/7-card/marks.js";
import { patternName } from "../../src/7-card/patterns.js";
import type { PixelRectangle } from "../../src/core/pixel-rectangle.js";
import { refusalOf } from "../support/refusal.js";

const usual: CardSpec = {
  ...{ widthMm: 80, heightMm: 60, linesPerInch: 1016, linesPerInchAlong: 1016 },
  ...{ levels: 2, seed: 1, oneWay: false },
};
const small = { ...usual, widthMm: 40, heightMm: 30 };

const cards: readonly (readonly [string, CardSpec])[] = [
  ["the usual one", usual],
  ["a small one", small],
  ["a small one of levels", { ...small, levels: 16, speedMmPerS: 123.4567 }],
  ["an upright one", { ...usual, widthMm: 60, heightMm: 80 }],
  ["a square one", { ...usual, widthMm: 50, heightMm: 50, oneWay: true }],
  ["a large one", { ...usual, widthMm: 180.5, heightMm: 120, linesPerInch: 508, linesPerInchAlong: 508 }],
  ["pixels that are no round number of mm", { ...usual, linesPerInch: 300, linesPerInchAlong: 300 }],
  ["pixels longer than lines are apart", { ...usual, linesPerInch: 847.33, linesPerInchAlong: 423 }],
];

const right = ({ left, columns }: PixelRectangle): number => left + columns;
const lower = ({ top, rows }: PixelRectangle): number => top + rows;
/** Bare pixels between two areas, along or across, whichever is more; negative if they overlap. */
const apart = (a: PixelRectangle, b: PixelRectangle): readonly [number, number] => [
  Math.max(a.left, b.left) - Math.min(right(a), right(b)),
  Math.max(a.top, b.top) - Math.min(lower(a), lower(b)),
];

describe.each(cards)("%s", (_, spec) => {
  const layout = cardLayout(spec);
  const { grid, patches, codeArea, code } = layout;
  const { columns, rows, pitch } = grid;
  const isApart = (a: PixelRectangle, b: PixelRectangle, mm: number): boolean => {
    const [along, across] = apart(a, b);
    // A patch starts on an even line, so it may be moved by a line.
    return (
      along * pitch.alongMm > mm - 1.01 * pitch.alongMm ||
      across * pitch.acrossMm > mm - 2.01 * pitch.acrossMm
    );
  };

  it("keeps bare gaps of half a millimetre between all that is on it", () => {
    const areas = patches.map(({ area }) => area);
    const marks = [...frameOf(grid), ...cornersOf(grid).map(({ area }) => area)];
    const close = areas.flatMap((area, k) =>
      [...areas.slice(k + 1), ...marks].filter((other) => !isApart(area, other, 0.5)),
    );
    expect(close).toEqual([]);
    const outside = areas.filter(
      (area) => area.left < 0 || area.top < 0 || right(area) > columns || lower(area) > rows,
    );
    expect(outside).toEqual([]);
  });

  it("has a code with modules of half a millimetre, all alike, and four of them bare round it", () => {
    const [along, across] = [codeArea.columns / code.side, codeArea.rows / code.side];
    expect([along % 1, across % 1]).toEqual([0, 0]);
    expect(Math.min(along * pitch.alongMm, across * pitch.acrossMm)).toBeGreaterThanOrEqual(0.5 - 1e-9);
    const quiet = {
      ...{ left: codeArea.left - 4 * along, top: codeArea.top - 4 * across },
      ...{ columns: codeArea.columns + 8 * along, rows: codeArea.rows + 8 * across },
    };
    const nearest = Math.min(...patches.map(({ area }) => Math.max(...apart(area, quiet))));
    expect(nearest).toBeGreaterThanOrEqual(-2);
  });

  it("starts every patch on an even line, and gives each 24 pixels or more both ways", () => {
    expect(patches.filter(({ area }) => area.top % 2 !== 0)).toEqual([]);
    expect(Math.min(...patches.map(({ area }) => Math.min(area.columns, area.rows)))).toBeGreaterThanOrEqual(
      24,
    );
  });

  it("repeats every pattern, as often as others or once more, and the first ones of the list", () => {
    const counts = countsOf(patches);
    const repeats = layout.patterns.map((pattern) => counts.get(patternName(pattern)) ?? 0);
    expect(Math.min(...repeats)).toBeGreaterThanOrEqual(2);
    expect(repeats).toEqual([...repeats].sort((a, b) => b - a));
    expect(repeats[0] - repeats[repeats.length - 1]).toBeLessThanOrEqual(1);
    // Numbered from 1 to their count: none is over it, and none is there twice.
    expect(patches.filter(({ pattern, repeat }) => repeat > (counts.get(patternName(pattern)) ?? 0))).toEqual(
      [],
    );
    expect(new Set(patches.map(({ pattern, repeat }) => `${patternName(pattern)} ${repeat}`)).size).toBe(
      patches.length,
    );
    expect(new Set(patches.map(({ id }) => id)).size).toBe(patches.length);
  });

  it("burns something on every line, so that the direction changes from line to line", () => {
    const { bytes, stride } = cardBitmap(layout);
    const blank = Array.from({ length: rows }, (_, y) => bytes[y * stride]).filter((first) => first === 0);
    expect(blank).toEqual([]);
  });
});

function countsOf(patches: readonly Patch[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { pattern } of patches) {
    counts.set(patternName(pattern), (counts.get(patternName(pattern)) ?? 0) + 1);
  }
  return counts;
}

/** Largest distance, in mm, from the middle of a patch to the middle of the nearest patch of a kind. */
function farthest({ grid, patches }: CardLayout, kind: string): number {
  const middle = ({ area }: Patch): readonly [number, number] => [
    (area.left + area.columns / 2) * grid.pitch.alongMm,
    (area.top + area.rows / 2) * grid.pitch.acrossMm,
  ];
  const references = patches.filter(({ pattern }) => pattern.kind === kind).map(middle);
  const distances = patches.map((patch) => {
    const [x, y] = middle(patch);
    return Math.min(...references.map(([a, b]) => Math.hypot(x - a, y - b)));
  });
  return Math.max(...distances);
}

describe("references", () => {
  it.each([
    ["the usual card", usual],
    ["the small card", small],
    [
      "a card of pixels that are no round number of mm",
      { ...usual, linesPerInch: 300, linesPerInchAlong: 300 },
    ],
  ])("on %s no patch is farther than 12 mm from a bare and from a solid one", (_, spec) => {
    const layout = cardLayout(spec);
    expect(farthest(layout, "bare")).toBeLessThan(12);
    expect(farthest(layout, "solid")).toBeLessThan(12);
  });
});

describe("sizes", () => {
  it("the usual card has some four hundred patches of nearly 3 mm, each pattern four times", () => {
    const { patches, patterns, grid } = cardLayout(usual);
    expect([patches.length, patterns.length]).toEqual([403, 83]);
    expect(patches[0].area.columns * grid.pitch.alongMm).toBeCloseTo(2.7, 9);
    expect(Math.min(...countsOf(patches).values())).toBe(4);
  });

  it("the repeats of a pattern lie in different parts of the card", () => {
    const { patches, patterns } = cardLayout(usual);
    for (const pattern of patterns) {
      const lefts = patches.filter((patch) => patch.pattern === pattern).map(({ area }) => area.left);
      // A quarter of the card is 800 pixels; each round of the patterns fills about that much.
      expect(Math.max(...lefts) - Math.min(...lefts)).toBeGreaterThan(1200);
    }
  });

  it("another seed scatters the same patches anew, the same seed does not", () => {
    const names = (seed: number) =>
      cardLayout({ ...usual, seed }).patches.map(({ pattern }) => patternName(pattern));
    expect(names(1)).toEqual(names(1));
    expect(names(2)).not.toEqual(names(1));
    expect(names(2).sort()).toEqual(names(1).sort());
  });
});

describe("what cannot be made", () => {
  it.each([
    ["too small", { ...usual, widthMm: 30, heightMm: 22 }, "card-too-small"],
    [
      "too small for patches of so few lines",
      { ...small, linesPerInch: 220, linesPerInchAlong: 220 },
      "card-too-small",
    ],
    ["smaller than the code", { ...usual, widthMm: 20, heightMm: 20 }, "card-too-small"],
    ["too few lines", { ...usual, linesPerInch: 200 }, "card-too-coarse"],
    ["too few pixels along", { ...usual, linesPerInchAlong: 200 }, "card-too-coarse"],
  ])("%s", (_, spec, id) => {
    expect(refusalOf(() => cardLayout(spec)).refusal?.id).toBe(id);
  });
});

describe("what a refusal advises", () => {
  it("can be made: 204 lines per inch on a large card, and 40 × 30 mm at 339", () => {
    expect(refusalOf(() => cardLayout({ ...usual, linesPerInch: 150 })).message).toContain(
      "Give 204 lines per inch",
    );
    const coarse = { linesPerInch: 204, linesPerInchAlong: 204 };
    expect(cardLayout({ ...usual, ...coarse }).patches.length).toBeGreaterThan(200);
    expect(refusalOf(() => cardLayout({ ...usual, widthMm: 30, heightMm: 20 })).message).toMatch(
      /40 × 30 mm .* 339/,
    );
    for (const speedMmPerS of [300, 1234.567]) {
      const least = {
        ...small,
        linesPerInch: 339,
        linesPerInchAlong: 339,
        levels: 256,
        seed: 9999,
        speedMmPerS,
      };
      expect(cardLayout(least).patches.length).toBeGreaterThan(60);
    }
  });
});

describe("corners", () => {
  /** A corner by what stays bare: at its middle, or at its inner quarter. */
  type Seen = readonly (string | undefined)[];
  const clockwise: Seen = ["ring", "notched", "solid", "solid"];
  const turned = (seen: Seen, by: number): Seen => seen.map((_, k) => seen[(k + by) % 4]);
  /** From behind, left and right change places. */
  const mirrored = ([a, b, c, d]: Seen): Seen => [b, a, d, c];
  const views = [0, 1, 2, 3].flatMap((by) => [turned(clockwise, by), mirrored(turned(clockwise, by))]);

  it("lie clockwise from the upper left, with what the README says bare", () => {
    const { grid, ...rest } = cardLayout(usual);
    const { bytes, stride } = cardBitmap({ ...rest, grid });
    const burns = (xMm: number, yMm: number): boolean => {
      const [x, y] = [Math.floor(xMm / 0.025), Math.floor(yMm / 0.025)];
      return ((bytes[y * stride + (x >> 3)] >> (7 - (x & 7))) & 1) === 1;
    };
    // In each corner's square of 3 mm, from the corner of the card: a place in the hole of a ring, and one in the inner quarter.
    const [hole, inner] = [1.2, 2.6];
    const corners = [
      [hole, hole, inner, inner],
      [80 - hole, hole, 80 - inner, inner],
      [80 - hole, 60 - hole, 80 - inner, 60 - inner],
      [hole, 60 - hole, inner, 60 - inner],
    ];
    const seen = corners.map(([holeX, holeY, innerX, innerY]) => {
      if (!burns(innerX, innerY)) return burns(holeX, holeY) ? "notched" : "bare";
      return burns(holeX, holeY) ? "solid" : "ring";
    });
    expect(seen).toEqual(clockwise);
  });

  it("tell all eight views apart, even with one corner spoilt", () => {
    for (const [a, one] of views.entries()) {
      for (const [b, other] of views.entries()) {
        if (a === b) continue;
        // A spoilt corner is known to be spoilt, at its place in the view.
        for (let spoilt = -1; spoilt < 4; spoilt++) {
          const left = (seen: Seen): Seen => seen.map((shape, k) => (k === spoilt ? undefined : shape));
          expect(left(one)).not.toEqual(left(other));
        }
      }
    }
  });
});
