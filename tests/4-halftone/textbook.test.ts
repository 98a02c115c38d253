import { describe, expect, it } from "vitest";
import { findHalftoneMethod, halftoneCodes } from "../../src/4-halftone/halftone.js";
import { diffusionKernels } from "../../src/4-halftone/kernels.js";
import type { Scan } from "../../src/4-halftone/method.js";
import {
  ostromoukhovRows,
  zhouFangRows,
  zhouFangStrength,
} from "../../src/4-halftone/variable-coefficients.js";
import { sharesFromKeyRows, strengthFromKeys } from "../../src/4-halftone/variable-weights.js";
import type { KernelMemory } from "../../src/core/kernel-memory.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import { whole } from "../reference/arithmetic.js";
import {
  diffuse,
  diffuseGreenNoise,
  diffuseVariable,
  type TextbookRow,
} from "../reference/textbook-diffusion.js";
import { plainMemory, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

/*
 * Compares the engine of the stage bit for bit with the textbook engine in whole numbers. Other tests compare the textbook engine in
 * exact numbers with other libraries: floyd-steinberg-tools, image-q, variable-diffusion.
 */
const COLUMNS = 203;
const ROWS = 60;

/** Any fraction at any place; some that must stay bare, some at the ends. */
const noise = (() => {
  const random = seededRandom(21);
  return Int16Array.from({ length: COLUMNS * ROWS }, () => {
    const kind = random();
    const code = Math.floor(16385 * random());
    return kind < 0.05 ? -1 : kind < 0.1 ? 0 : kind < 0.15 ? 16384 : code;
  });
})();

/** Soft shades with a hard edge, a little grain, a bare margin on the right and a hole that must stay bare. */
const photograph = (() => {
  const random = seededRandom(22);
  return Int16Array.from({ length: COLUMNS * ROWS }, (_, i) => {
    const x = i % COLUMNS;
    const y = Math.floor(i / COLUMNS);
    if (x > 150) return 0;
    if (Math.hypot(x - 60, y - 40) < 12) return -1;
    const shade = 0.5 + 0.35 * Math.sin(x / 23) * Math.cos(y / 17) + (x > 100 ? 0.1 : 0);
    return Math.round(16384 * Math.min(1, Math.max(0, shade + 0.04 * (random() - 0.5))));
  });
})();

/**
 * Blocks of a few tones that give the largest sums of errors. Numbers of 16 bits must not overflow at the sides. Here they would
 * overflow with a limit of side error of 3/4 instead of 9/16.
 */
function blocks(seed: number): Int16Array {
  const random = seededRandom(seed);
  const below = (end: number) => Math.floor(end * random());
  const tones = Array.from(
    { length: 3 },
    () => [0, 16384, 8191, 8193, below(1000), 16384 - below(300)][below(6)],
  );
  const [blockColumns, blockRows] = [1 + below(30), 1 + below(90)];
  const toneOf = Array.from({ length: COLUMNS * ROWS }, () => tones[below(3)]);
  return Int16Array.from({ length: COLUMNS * ROWS }, (_, i) => {
    const across = Math.floor((i % COLUMNS) / blockColumns);
    return toneOf[across + COLUMNS * Math.floor(Math.floor(i / COLUMNS) / blockRows)];
  });
}
const contrived = Array.from({ length: 25 }, (_, seed) => blocks(seed));

/** The rows that the stage runs: 32 of lead-in, mirrored, and the picture. */
function run(nextRow: TextbookRow, fractions: Int16Array): Uint8Array {
  const bits = new Uint8Array(COLUMNS * ROWS);
  for (let y = -32; y < ROWS; y++) {
    const from = (y < 0 ? -1 - y : y) * COLUMNS;
    nextRow(fractions.subarray(from, from + COLUMNS), y, bits.subarray(from, from + COLUMNS));
  }
  return bits;
}

const SEED = 5;
const CLUMPING = 1.3;

const textbook: readonly (readonly [id: string, start: (scan: Scan) => TextbookRow])[] = [
  ...diffusionKernels.map(
    (kernel) => [kernel.id, (scan: Scan) => diffuse(kernel, COLUMNS, scan, "keep", whole)] as const,
  ),
  [
    "ostromoukhov",
    (scan) => diffuseVariable(sharesFromKeyRows(ostromoukhovRows), COLUMNS, scan, "keep", whole),
  ],
  [
    "zhou-fang",
    (scan) =>
      diffuseVariable(sharesFromKeyRows(zhouFangRows), COLUMNS, scan, "keep", whole, {
        strength: strengthFromKeys(zhouFangStrength),
        random: seededRandom(SEED),
      }),
  ],
  ["green-noise", (scan) => diffuseGreenNoise(CLUMPING, COLUMNS, scan, whole, seededRandom(SEED))],
];

describe.each(textbook)("%s", (id, start) => {
  const method = findHalftoneMethod(id);

  function expectBits(scan: Scan, fractions: Int16Array, memory: KernelMemory): void {
    const settings = halftoneSettings({ scan, seed: SEED, clumping: CLUMPING });
    const bits = unpackBitmap(
      halftoneCodes(method, { codes: fractions, columns: COLUMNS, rows: ROWS }, settings, memory),
    );
    expect(Buffer.compare(bits, run(start(scan), fractions))).toBe(0);
  }

  it.each(["serpentine", "raster"] as const)("gives the bits of the textbook, %s", (scan) => {
    for (const fractions of [noise, photograph]) {
      for (const memory of [plainMemory, simdMemory]) expectBits(scan, fractions, memory);
    }
  });

  it("does so where error piles up at the sides", () => {
    for (const fractions of contrived) expectBits("raster", fractions, simdMemory);
  });
});
