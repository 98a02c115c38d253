import { describe, expect, it } from "vitest";
import {
  type KeyRow,
  ostromoukhovRows,
  zhouFangRows,
  zhouFangStrength,
} from "../../src/4-halftone/variable-coefficients.js";
import { sharesFromKeyRows, strengthFromKeys } from "../../src/4-halftone/variable-weights.js";
import { publishedTable } from "../support/halftone-tables.js";

type Row = readonly [right: number, downLeft: number, down: number];

const normalised = (row: Row) => row.map((weight) => weight / (row[0] + row[1] + row[2]));
const sharesAt = (shares: Float64Array, level: number) => [...shares.subarray(3 * level, 3 * level + 3)];

function expectShares(actual: readonly number[], expected: readonly number[], tolerance: number) {
  actual.forEach((share, i) => {
    expect(Math.abs(share - expected[i])).toBeLessThanOrEqual(tolerance);
  });
}

describe("Ostromoukhov's coefficients", () => {
  const published = publishedTable<{ levels_0_to_255: readonly Row[] }>(
    "variable-coefficients/ostromoukhov-2001/variant-B",
  ).levels_0_to_255;
  const shares = sharesFromKeyRows(ostromoukhovRows);

  it("are the author's listing, level for level", () => {
    expect(published).toHaveLength(256);
    for (let level = 0; level < 256; level++) {
      const folded = level < 128 ? level : 255 - level;
      expectShares(sharesAt(shares, folded), normalised(published[level]), 1e-12);
    }
  });
});

describe("Zhou and Fang's coefficients", () => {
  const published = publishedTable<{
    check_rows: Readonly<Record<string, Row>>;
    key_coefficients: Readonly<Record<string, Row>>;
    strength_percent_0_to_127: readonly number[];
  }>("variable-coefficients/zhou-fang-2003");
  const shares = sharesFromKeyRows(zhouFangRows);
  const strength = strengthFromKeys(zhouFangStrength);

  it("pass through the published key levels", () => {
    for (const [level, row] of Object.entries(published.key_coefficients)) {
      expectShares(sharesAt(shares, Number(level)), normalised(row), 1e-12);
    }
  });

  it("give the rows between the key levels to five digits of the released table", () => {
    const rows = Object.entries(published.check_rows);
    expect(rows).toHaveLength(6);
    for (const [level, row] of rows) expectShares(sharesAt(shares, Number(level)), normalised(row), 5e-6);
  });

  it("give the released strengths, which are whole per cent rounded down", () => {
    expect(published.strength_percent_0_to_127).toHaveLength(128);
    published.strength_percent_0_to_127.forEach((percent, level) => {
      // The published per cent is a floor, so a value on a whole number may fall just below it.
      const above = strength[level] * 100 - percent;
      expect(above).toBeGreaterThan(-1e-9);
      expect(above).toBeLessThan(1 + 1e-9);
    });
  });
});

it.each([
  ["Ostromoukhov", ostromoukhovRows],
  ["Zhou–Fang", zhouFangRows],
] as const)("%s: shares of every level are none below 0 and sum to 1", (_name, rows: readonly KeyRow[]) => {
  const shares = sharesFromKeyRows(rows);
  for (let level = 0; level < 128; level++) {
    const row = sharesAt(shares, level);
    expect(Math.min(...row)).toBeGreaterThanOrEqual(0);
    expect(row[0] + row[1] + row[2]).toBeCloseTo(1, 14);
  }
});
