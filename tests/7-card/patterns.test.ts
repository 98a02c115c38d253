import { describe, expect, it } from "vitest";
import { cardPatterns } from "../../src/7-card/catalogue.js";
import { burnFractionOf, patternName, patternTile } from "../../src/7-card/patterns.js";
import type { CardPattern } from "../../src/core/card-pattern.js";

/** Lines of a tile, `#` for full power. */
function drawn(pattern: CardPattern): string[] {
  const { columns, rows, codes } = patternTile(pattern, 2);
  expect(codes).toHaveLength(columns * rows);
  return Array.from({ length: rows }, (_, y) =>
    Array.from(codes.subarray(y * columns, (y + 1) * columns), (code) => (code === 1 ? "#" : ".")).join(""),
  );
}

/** Drawn by hand from the description of each kind. */
const byHand: readonly (readonly [CardPattern, readonly string[]])[] = [
  [{ kind: "bare" }, ["."]],
  [{ kind: "solid" }, ["#"]],
  [{ kind: "lines", on: 2, period: 3 }, ["#", "#", "."]],
  [{ kind: "dashes", on: 2, off: 1, step: 0, linePeriod: 1 }, ["##."]],
  [{ kind: "dashes", on: 1, off: 2, step: 1, linePeriod: 1 }, ["#..", ".#.", "..#"]],
  [{ kind: "dashes", on: 2, off: 2, step: 2, linePeriod: 1 }, ["##..", "..##"]],
  [{ kind: "dashes", on: 1, off: 1, step: 1, linePeriod: 3 }, ["#.", "..", "..", ".#", "..", ".."]],
  [{ kind: "dots", side: 2, period: 3 }, ["##.", "##.", "..."]],
  [{ kind: "holes", side: 1, period: 3 }, [".##", "###", "###"]],
  [{ kind: "checks", side: 2 }, ["##..", "##..", "..##", "..##"]],
  [{ kind: "vernier", on: 3, off: 3, shift: 2 }, ["###...", "..###."]],
  [{ kind: "vernier", on: 3, off: 3, shift: -1 }, ["###...", "##...#"]],
  [{ kind: "vernier", on: 1, off: 3, shift: 2 }, ["#...", "..#."]],
];

/** Shares by plane geometry. */
function share(pattern: CardPattern, levels: number): number {
  switch (pattern.kind) {
    case "bare":
      return 0;
    case "solid":
      return 1;
    case "lines":
      return pattern.on / pattern.period;
    case "dashes":
      return pattern.on / (pattern.on + pattern.off) / pattern.linePeriod;
    case "dots":
      return (pattern.side / pattern.period) ** 2;
    case "holes":
      return 1 - (pattern.side / pattern.period) ** 2;
    case "checks":
      return 0.5;
    case "vernier":
      return pattern.on / (pattern.on + pattern.off);
    case "fill":
      return pattern.level / (levels - 1);
  }
}

describe("tiles", () => {
  it.each(byHand)("%o is as drawn by hand", (pattern, lines) => {
    expect(drawn(pattern)).toEqual(lines);
  });

  it.each([2, 3, 16, 256])("all patterns of %i levels burn the share of plane geometry", (levels) => {
    for (const pattern of cardPatterns(levels)) {
      const tile = patternTile(pattern, levels);
      expect(burnFractionOf(tile, levels)).toBeCloseTo(share(pattern, levels), 12);
      expect(Math.max(...tile.codes)).toBe(pattern.kind === "fill" ? pattern.level : levels - 1);
    }
  });
});

describe("the catalogue", () => {
  it.each([2, 3, 16, 256])("has no pattern twice, by name or by pixels, at %i levels", (levels) => {
    const patterns = cardPatterns(levels);
    expect(new Set(patterns.map(patternName)).size).toBe(patterns.length);
    const pixels = patterns.map((pattern) => JSON.stringify(patternTile(pattern, levels)));
    expect(new Set(pixels).size).toBe(patterns.length);
  });

  it("has a fill at every level between off and full power, ten of them at most", () => {
    const fills = (levels: number) =>
      cardPatterns(levels).flatMap((pattern) => (pattern.kind === "fill" ? [pattern.level] : []));
    expect(fills(2)).toEqual([]);
    expect(fills(4)).toEqual([1, 2]);
    // 255 · k / 11, rounded.
    expect(fills(256)).toEqual([23, 46, 70, 93, 116, 139, 162, 185, 209, 232]);
  });

  it("shows equal shares in several textures", () => {
    const byShare = new Map<string, Set<string>>();
    for (const pattern of cardPatterns(2)) {
      const key = share(pattern, 2).toFixed(4);
      byShare.set(key, (byShare.get(key) ?? new Set()).add(pattern.kind));
    }
    expect([...(byShare.get("0.5000") ?? [])].sort()).toEqual(
      ["checks", "dashes", "lines", "vernier"].sort(),
    );
    expect([...(byShare.get("0.2500") ?? [])].sort()).toEqual(["dashes", "lines", "vernier"]);
    expect([...(byShare.get("0.7500") ?? [])].sort()).toEqual(["dashes", "holes", "lines"]);
    expect([...(byShare.get("0.3333") ?? [])].sort()).toEqual(["dashes", "lines", "vernier"]);
  });

  it("has tiles with an odd number of lines, which meet both directions of a machine in turn", () => {
    const odd = cardPatterns(2).filter((pattern) => patternTile(pattern, 2).rows % 2 === 1);
    expect(new Set(odd.map(({ kind }) => kind))).toEqual(new Set(["lines", "dashes", "dots", "holes"]));
  });
});
