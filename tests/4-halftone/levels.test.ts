import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { findHalftoneMethod, halftoneCodes } from "../../src/4-halftone/halftone.js";
import { HalftoneStream } from "../../src/4-halftone/halftone-stream.js";
import { diffusionKernels } from "../../src/4-halftone/kernels.js";
import type { Scan } from "../../src/4-halftone/method.js";
import {
  ostromoukhovRows,
  zhouFangRows,
  zhouFangStrength,
} from "../../src/4-halftone/variable-coefficients.js";
import { sharesFromKeyRows, strengthFromKeys } from "../../src/4-halftone/variable-weights.js";
import { seededRandom } from "../../src/core/random.js";
import { whole } from "../reference/arithmetic.js";
import { diffuse, diffuseVariable, type TextbookRow } from "../reference/textbook-diffusion.js";
import { plainMemory, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { refusalOf } from "../support/refusal.js";

const COLUMNS = 203;
const ROWS = 48;
const SEED = 5;

/** Any fraction at any place; some that must stay bare, some at the ends. */
const noise = (() => {
  const random = seededRandom(31);
  return Int16Array.from({ length: COLUMNS * ROWS }, () => {
    const kind = random();
    const code = Math.floor(16385 * random());
    return kind < 0.05 ? -1 : kind < 0.1 ? 0 : kind < 0.15 ? 16384 : code;
  });
})();

/** Soft shades, a bare margin on the right where error piles up, and a hole that must stay bare. */
const shades = Int16Array.from({ length: COLUMNS * ROWS }, (_, i) => {
  const x = i % COLUMNS;
  const y = Math.floor(i / COLUMNS);
  if (x > 150) return 0;
  if (Math.hypot(x - 60, y - 40) < 12) return -1;
  return Math.round(16384 * (0.5 + 0.49 * Math.sin(x / 23) * Math.cos(y / 17)));
});

const textbook: readonly (readonly [id: string, start: (scan: Scan, levels: number) => TextbookRow])[] = [
  ...diffusionKernels.map(
    (kernel) =>
      [
        kernel.id,
        (scan: Scan, levels: number) => diffuse(kernel, COLUMNS, scan, "keep", whole, levels),
      ] as const,
  ),
  [
    "ostromoukhov",
    (scan, levels) =>
      diffuseVariable(sharesFromKeyRows(ostromoukhovRows), COLUMNS, scan, "keep", whole, undefined, levels),
  ],
  [
    "zhou-fang",
    (scan, levels) =>
      diffuseVariable(
        sharesFromKeyRows(zhouFangRows),
        COLUMNS,
        scan,
        "keep",
        whole,
        { strength: strengthFromKeys(zhouFangStrength), random: seededRandom(SEED) },
        levels,
      ),
  ],
];

/*
 * The stage's own engine against the textbook's in whole numbers, level for level. The textbook's in exact numbers is held
 * against G'MIC in levels-tools.
 */
describe.each(textbook)("%s with power levels", (id, start) => {
  it.each([3, 4, 16, 255, 256])("gives the levels of the textbook, %i of them", (levels) => {
    for (const scan of ["serpentine", "raster"] as const) {
      for (const fractions of [noise, shades]) {
        const nextRow = start(scan, levels);
        const expected = new Uint8Array(COLUMNS * ROWS);
        for (let y = -32; y < ROWS; y++) {
          const from = (y < 0 ? -1 - y : y) * COLUMNS;
          nextRow(fractions.subarray(from, from + COLUMNS), y, expected.subarray(from, from + COLUMNS));
        }
        const settings = halftoneSettings({ scan, seed: SEED, levels });
        const { bytes } = halftoneCodes(
          findHalftoneMethod(id),
          { codes: fractions, columns: COLUMNS, rows: ROWS },
          settings,
          simdMemory,
        );
        expect(Buffer.compare(bytes, expected)).toBe(0);
      }
    }
  });
});

const able = halftoneMethods.filter(({ takesLevels }) => takesLevels);
const isOrdered = (family: string) => ["ordered dither", "blue noise", "clustered dot"].includes(family);

describe.each(able.map((method) => [method.id, method] as const))("%s", (id, method) => {
  it("keeps to the two levels beside a flat grey, and burns nothing that must stay bare", () => {
    for (const levels of [3, 7, 256]) {
      for (const code of [-1, 0, 1000, 7000, 12345, 16384]) {
        const flat = new Int16Array(64 * 64).fill(code);
        const { bytes } = halftoneCodes(
          method,
          { codes: flat, columns: 64, rows: 64 },
          halftoneSettings({ levels }),
        );
        const place = (Math.max(0, code) * (levels - 1)) / 16384;
        for (const level of new Set(bytes)) expect(Math.abs(level - place)).toBeLessThan(1.0001);
        if (code === -1 || code === 0 || code === 16384) expect(new Set(bytes)).toEqual(new Set([place]));
      }
    }
  });

  if (method.keepsMean)
    it("keeps the mean of a flat grey within 1/1000", () => {
      // 384: whole tiles, as in flat-grey.test.ts; ordered methods round to their tones, as many between two levels as between
      // bare and burned.
      const side = isOrdered(method.family) ? 384 : 160;
      const tones =
        { "blue-noise": 128 ** 2, "clustered-dot": 32 * 32 }[id] ?? Number(id.replace("bayer-", "")) ** 2;
      for (const levels of [3, 4, 16]) {
        for (let k = 0; k <= 16; k++) {
          const flat = new Int16Array(side * side).fill(k * 1024);
          const { bytes } = halftoneCodes(
            method,
            { codes: flat, columns: side, rows: side },
            halftoneSettings({ levels }),
            simdMemory,
          );
          const mean = bytes.reduce((sum, level) => sum + level, 0) / (side * side * (levels - 1));
          const slack = isOrdered(method.family) ? 0.5 / (tones * (levels - 1)) + 1e-12 : 1e-3;
          expect(Math.abs(mean - k / 16)).toBeLessThanOrEqual(slack);
        }
      }
    });

  it("gives the same levels in either memory, in bands of any height, and after a restart", () => {
    const settings = halftoneSettings({ levels: 5 });
    const { bytes } = halftoneCodes(
      method,
      { codes: noise, columns: COLUMNS, rows: ROWS },
      settings,
      plainMemory,
    );
    for (const bandRows of [1, 7, 64]) {
      const out = new Uint8Array(COLUMNS * ROWS);
      const emit = (rows: Uint8Array, y: number, count: number) => {
        out.set(rows.subarray(0, count * COLUMNS), y * COLUMNS);
      };
      const stream = new HalftoneStream(
        method,
        { columns: COLUMNS, rows: ROWS, bandRows },
        settings,
        emit,
        simdMemory,
      );
      for (let turn = 0; turn < 2; turn++) {
        out.fill(99);
        for (let y = 0; y < ROWS; y += bandRows) {
          const count = Math.min(bandRows, ROWS - y);
          stream.fractions.set(noise.subarray(y * COLUMNS, (y + count) * COLUMNS));
          stream.push(count);
        }
        expect(Buffer.compare(out, bytes)).toBe(0);
        stream.restart();
      }
    }
  });
});

it("a threshold takes the nearest level: rounding", () => {
  const codes = Int16Array.from({ length: 16385 }, (_, code) => code);
  for (const levels of [3, 16, 256]) {
    const settings = halftoneSettings({ levels });
    const { bytes } = halftoneCodes(
      findHalftoneMethod("threshold"),
      { codes, columns: codes.length, rows: 1 },
      settings,
    );
    const rounded = Uint8Array.from(codes, (code) => Math.round((code / 16384) * (levels - 1)));
    expect(Buffer.compare(bytes, rounded)).toBe(0);
  }
});

it("methods whose dots are on or off are refused", () => {
  const refused = halftoneMethods.filter(({ takesLevels }) => !takesLevels);
  expect(refused.map(({ id }) => id)).toEqual([
    "green-noise",
    "dose-feedback",
    "dot-diffusion",
    "dot-diffusion-16",
  ]);
  for (const method of refused) {
    const settings = halftoneSettings({ levels: 4 });
    const refusal = refusalOf(() =>
      halftoneCodes(method, { codes: new Int16Array(4), columns: 2, rows: 2 }, settings),
    );
    expect(refusal.code).toBe("OPTION_METHOD_LEVELS");
  }
});
