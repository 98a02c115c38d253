import { describe, expect, it } from "vitest";
import { tonesInOrder } from "../../../src/pipeline/photo/tones-in-order.js";

const LAST = 65535;
/** A photo of a third of black sea and two thirds of a bright sky that gets brighter to the right. */
const codesAt = (columns: number, rows: number) => (y: number) =>
  Uint16Array.from({ length: columns }, (_, x) =>
    y >= (2 * rows) / 3 ? 0 : Math.round(LAST * (0.4 + (0.6 * (x + 0.5)) / columns)),
  );
const whole = (columns: number, rows: number) => ({ left: 0, top: 0, columns, rows });
const share = (codes: Uint16Array, from: number, to: number): number =>
  codes.filter((code) => code >= from * LAST && code < to * LAST).length / codes.length;

describe("a picture with the tones of a photo", () => {
  const { codes, columns, rows } = tonesInOrder(codesAt(600, 450), whole(600, 450), 256);

  it("has each tone with its share", () => {
    expect([columns, rows]).toEqual([256, 256]);
    // A third is black; the texture of 2 L* lifts it to 0.0022 of luminance at most (CIE 15: Y = L*·27/24389).
    expect(share(codes, 0, 0.01)).toBeCloseTo(1 / 3, 2);
    // Two thirds spread evenly over 0.4 to 1, so a third of them lies between 0.6 and 0.8.
    expect(share(codes, 0.6, 0.8)).toBeCloseTo(2 / 9, 2);
    expect(share(codes, 0.01, 0.37)).toBe(0);
  });

  it("is nearly the same at another size or density of the photo", () => {
    const other = tonesInOrder(codesAt(630, 472), whole(630, 472), 256);
    const differing = other.codes.filter((code, i) => Math.abs(code - codes[i]) > 0.02 * LAST).length;
    expect(differing / codes.length).toBeLessThan(0.02);
  });

  it("has only tones from the area that counts", () => {
    const sky = tonesInOrder(codesAt(600, 450), { left: 300, top: 0, columns: 300, rows: 300 }, 256);
    // The right half of the sky has 0.7 to 1.
    expect(share(sky.codes, 0, 0.65)).toBe(0);
    expect(share(sky.codes, 0.7, 0.85)).toBeCloseTo(0.5, 1);
  });

  it("is no larger than the area", () => {
    const small = tonesInOrder(codesAt(40, 30), whole(40, 30), 256);
    expect([small.columns, small.rows, small.codes.length]).toEqual([40, 30, 1200]);
  });

  it("has all tones in every quarter: they are not sorted into a corner", () => {
    for (const top of [0, 192]) {
      const part = codes.subarray(top * 256, (top + 64) * 256);
      expect(share(part, 0, 0.01)).toBeGreaterThan(0.1);
      expect(share(part, 0.8, 1)).toBeGreaterThan(0.03);
    }
  });
});
