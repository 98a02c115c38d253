import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { halftoneCodes } from "../../src/4-halftone/halftone.js";
import { HalftoneStream } from "../../src/4-halftone/halftone-stream.js";
import type { HalftoneMethod, HalftoneSettings } from "../../src/4-halftone/method.js";
import type { KernelMemory } from "../../src/core/kernel-memory.js";
import { bytesPerPackedRow, type PackedBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import { plainMemory, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

/* Around a byte, a vector and the slanted block of eight rows, and pictures shorter than the lead-in. */
const WIDTHS = [1, 2, 3, 7, 8, 9, 15, 16, 17, 31, 32, 33, 34, 41, 63, 64, 65, 500];
const HEIGHTS = [1, 2, 7, 8, 31, 32, 33, 70];

function picture(columns: number, rows: number, seed: number): Int16Array {
  const random = seededRandom(seed);
  return Int16Array.from({ length: columns * rows }, () => {
    const kind = random();
    const code = Math.floor(16385 * random());
    return kind < 0.05 ? -1 : kind < 0.1 ? 0 : kind > 0.97 ? 16384 : code;
  });
}

const same = (a: Uint8Array, b: Uint8Array) => Buffer.compare(a, b) === 0;

it("the compiled form runs here, or these tests compare nothing", () => {
  expect(simdMemory.simd).toBeDefined();
  expect(plainMemory.simd).toBeUndefined();
});

describe.each(halftoneMethods.map((method) => [method.id, method] as const))("%s", (_id, method) => {
  it.each(["serpentine", "raster"] as const)("gives the same bytes in both forms, %s", (scan) => {
    const settings = halftoneSettings({ scan });
    for (const columns of WIDTHS) {
      for (const rows of HEIGHTS) {
        const fractions = picture(columns, rows, columns);
        const plain = halftoneCodes(method, { codes: fractions, columns, rows }, settings, plainMemory);
        const simd = halftoneCodes(method, { codes: fractions, columns, rows }, settings, simdMemory);
        if (!same(plain.bytes, simd.bytes)) expect.fail(`${columns} × ${rows} differ`);
      }
    }
  });

  it.each([
    ["plain", plainMemory],
    ["simd", simdMemory],
  ] as const)("gives the same bytes in bands of any height, and after a restart, %s", (_form, memory) => {
    const [columns, rows] = [65, 75];
    const settings = halftoneSettings();
    const fractions = picture(columns, rows, 9);
    const { bytes } = halftoneCodes(method, { codes: fractions, columns, rows }, settings, memory);
    for (const bandRows of [1, 5, 8, 31, 32, 33, 200]) {
      const out = collector(method, columns, rows, settings, memory, bandRows);
      expect(same(out.run(fractions), bytes)).toBe(true);
      out.restart();
      out.stream.fractions.fill(5000);
      for (let y = 0; y < 40; y += bandRows) out.stream.push(Math.min(bandRows, 40 - y));
      out.restart();
      expect(same(out.run(fractions), bytes)).toBe(true);
    }
  });

  it("burns no pixel that must stay bare, and does not write to what it was given", () => {
    const [columns, rows] = [65, 75];
    const fractions = picture(columns, rows, 4).map((code) => (code < 0 ? -1 : 16384));
    const before = fractions.slice();
    for (const memory of [plainMemory, simdMemory]) {
      const { bytes, stride } = halftoneCodes(
        method,
        { codes: fractions, columns, rows },
        halftoneSettings(),
        memory,
      );
      fractions.forEach((code, i) => {
        const x = i % columns;
        const bit = (bytes[Math.floor(i / columns) * stride + (x >> 3)] >> (7 - (x & 7))) & 1;
        if (code < 0) expect(bit).toBe(0);
      });
      expect(fractions).toEqual(before);
    }
  });
});

function collector(
  method: HalftoneMethod,
  columns: number,
  rows: number,
  settings: HalftoneSettings,
  memory: KernelMemory,
  bandRows: number,
): { stream: HalftoneStream; restart: () => void; run: (fractions: Int16Array) => Uint8Array } {
  const stride = bytesPerPackedRow(columns);
  const bytes = new Uint8Array(rows * stride);
  let expectedRow = 0;
  const emit = (packed: PackedBitmap["bytes"], y: number, count: number) => {
    expect(y).toBe(expectedRow);
    expectedRow += count;
    bytes.set(packed.subarray(0, count * stride), y * stride);
  };
  const stream = new HalftoneStream(method, { columns, rows, bandRows }, settings, emit, memory);
  return {
    stream,
    restart: () => {
      stream.restart();
      expectedRow = 0;
    },
    run: (fractions) => {
      for (let y = 0; y < rows; y += bandRows) {
        const count = Math.min(bandRows, rows - y);
        stream.fractions.set(fractions.subarray(y * columns, (y + count) * columns));
        stream.push(count);
      }
      expect(expectedRow).toBe(rows);
      return bytes;
    },
  };
}
