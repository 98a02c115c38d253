import { describe, expect, it } from "vitest";
import type { Scan } from "../../src/4-halftone/method.js";
import {
  type KeyRow,
  ostromoukhovRows,
  zhouFangRows,
  zhouFangStrength,
} from "../../src/4-halftone/variable-coefficients.js";
import { sharesFromKeyRows, strengthFromKeys } from "../../src/4-halftone/variable-weights.js";
import { seededRandom } from "../../src/core/random.js";
import { exact } from "../reference/arithmetic.js";
import { diffuseVariable, type ThresholdNoise } from "../reference/textbook-diffusion.js";
import { publishedTable } from "../support/halftone-tables.js";

type Row = readonly [right: number, downLeft: number, down: number];

const COLUMNS = 80;
const ROWS = 60;

/** Grey levels 0..255, first smooth, then rough. */
const levels = Uint8Array.from({ length: COLUMNS * ROWS }, (_, i) => {
  const x = i % COLUMNS;
  const y = Math.floor(i / COLUMNS);
  return y < ROWS / 2 ? (255 * x) / (COLUMNS - 1) : (37 * x + 91 * y + ((x * y) % 23)) % 256;
});

/**
 * The same diffusion from the receiving side: a pixel receives error from the pixels behind, above and above ahead, each with the
 * weights of its own level.
 */
function gathered(weightsOf: (level: number) => Row, thresholdOf: (level: number) => number, scan: Scan) {
  const bits = new Uint8Array(COLUMNS * ROWS);
  const errors = new Float64Array(COLUMNS * ROWS);
  for (let y = 0; y < ROWS; y++) {
    const back = scan === "serpentine" && y % 2 === 1;
    const backAbove = scan === "serpentine" && y % 2 === 0;
    const given = (x: number, row: number, tap: 0 | 1 | 2) => {
      if (x < 0 || x >= COLUMNS || row < 0) return 0;
      const weights = weightsOf(levels[row * COLUMNS + x]);
      return (errors[row * COLUMNS + x] * weights[tap]) / (weights[0] + weights[1] + weights[2]);
    };
    for (let n = 0; n < COLUMNS; n++) {
      const x = back ? COLUMNS - 1 - n : n;
      const at = y * COLUMNS + x;
      const behind = given(back ? x + 1 : x - 1, y, 0);
      // Down-left of a pixel is down-right where its line ran from the right.
      const diagonal = given(backAbove ? x - 1 : x + 1, y - 1, 1);
      const wanted = levels[at] / 255 + behind + diagonal + given(x, y - 1, 2);
      bits[at] = wanted >= thresholdOf(levels[at]) ? 1 : 0;
      errors[at] = wanted - bits[at];
    }
  }
  return bits;
}

/** The textbook engine, as published: error at the sides is dropped, and nothing runs before the first row. */
function ours(keyRows: readonly KeyRow[], scan: Scan, noise?: ThresholdNoise): Uint8Array {
  const fractions = Float32Array.from(levels, (level) => level / 255);
  const bits = new Uint8Array(COLUMNS * ROWS);
  const nextRow = diffuseVariable(sharesFromKeyRows(keyRows), COLUMNS, scan, "drop", exact, noise);
  for (let y = 0, from = 0; y < ROWS; y++, from += COLUMNS) {
    nextRow(fractions.subarray(from, from + COLUMNS), y, bits.subarray(from, from + COLUMNS));
  }
  return bits;
}

describe.each(["serpentine", "raster"] as const)("gathered from the published tables, %s", (scan) => {
  it("Ostromoukhov's bits are these", () => {
    const { levels_0_to_255: rows } = publishedTable<{ levels_0_to_255: readonly Row[] }>(
      "variable-coefficients/ostromoukhov-2001/variant-B",
    );
    expect(ours(ostromoukhovRows, scan)).toEqual(
      gathered(
        (level) => rows[level],
        () => 0.5,
        scan,
      ),
    );
  });

  it("Zhou and Fang's bits are these", () => {
    const table = publishedTable<{
      key_coefficients: Readonly<Record<string, Row>>;
      key_strength: Readonly<Record<string, number>>;
    }>("variable-coefficients/zhou-fang-2003");
    const random = seededRandom(9);
    const folded = (level: number) => Math.min(level, 255 - level);
    // Published for levels 0..255 as 128 + (r mod 128)·m, r a random whole number and m the strength.
    const threshold = (level: number) => 0.5 + 0.5 * random() * between(table.key_strength, folded(level));
    const weights = (level: number): Row => {
      const share = (tap: 0 | 1 | 2) =>
        between(
          Object.fromEntries(
            Object.entries(table.key_coefficients).map(([key, row]) => [
              key,
              row[tap] / (row[0] + row[1] + row[2]),
            ]),
          ),
          folded(level),
        );
      return [share(0), share(1), share(2)];
    };
    const byLevel = Array.from({ length: 256 }, (_, level) => weights(level));
    expect(
      ours(zhouFangRows, scan, { strength: strengthFromKeys(zhouFangStrength), random: seededRandom(9) }),
    ).toEqual(gathered((level) => byLevel[level], threshold, scan));
  });
});

/** Linear between the nearest keys on either side. */
function between(keys: Readonly<Record<string, number>>, level: number): number {
  const known = Object.keys(keys).map(Number);
  const low = Math.max(...known.filter((key) => key <= level));
  const high = Math.min(...known.filter((key) => key >= level));
  return low === high ? keys[low] : keys[low] + ((keys[high] - keys[low]) * (level - low)) / (high - low);
}
