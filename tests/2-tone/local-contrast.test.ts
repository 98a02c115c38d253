import { describe, expect, it } from "vitest";
import { addLocalContrast, surroundingsOf } from "../../src/2-tone/local-contrast.js";
import { seededRandom } from "../../src/core/random.js";

const columns = 120;
const rows = 80;
const lightness = (y: number) => (y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (29 / 3) ** 3 * y);
const luminance = (l: number) => (l > 8 ? ((l + 16) / 116) ** 3 : l / (29 / 3) ** 3);

function variance(values: ArrayLike<number>): number {
  const all = Array.from(values);
  const mean = all.reduce((sum, value) => sum + value, 0) / all.length;
  return all.reduce((sum, value) => sum + (value - mean) ** 2, 0) / all.length;
}

function adjusted(plane: Float32Array, amount: number): Float32Array {
  const copy = plane.slice();
  const surroundings = surroundingsOf(plane, columns, rows);
  for (let y = 0; y < rows; y++) {
    addLocalContrast(copy.subarray(y * columns, (y + 1) * columns), y, rows, surroundings, amount);
  }
  return copy;
}

describe("local contrast", () => {
  it("leaves a constant alone, and everything alone at 0", () => {
    for (const value of adjusted(new Float32Array(columns * rows).fill(0.3), 1.5)) {
      expect(value).toBeCloseTo(0.3, 5);
    }
    const random = seededRandom(1);
    const plane = Float32Array.from({ length: columns * rows }, () => random());
    adjusted(plane, 0).forEach((value, i) => {
      expect(value).toBeCloseTo(plane[i], 6);
    });
  });

  it.each([0.3, 1, 2])("multiplies fine detail in L* by 1 + %d", (amount) => {
    // A mean over 11 or more pixels removes a wave of 4 pixels around L* 50: no more than 1 % of it is left.
    const wave = (i: number) => 5 * Math.sin((Math.PI / 2) * (i % columns));
    const plane = Float32Array.from({ length: columns * rows }, (_, i) => luminance(50 + wave(i)));
    const out = adjusted(plane, amount);
    out.forEach((value, i) => {
      const x = i % columns;
      if (x < 12 || x >= columns - 12) return;
      expect(Math.abs(lightness(value) - (50 + (1 + amount) * wave(i)))).toBeLessThan(0.1 * amount);
    });
  });

  it("raises the variance about the surroundings, and leaves a slow slope nearly alone", () => {
    const random = seededRandom(2);
    const noise = Float32Array.from({ length: columns * rows }, () => luminance(45 + 10 * random()));
    const before = variance(noise.map(lightness));
    expect(variance(adjusted(noise, 1).map(lightness)) / before).toBeGreaterThan(3);
    const slope = Float32Array.from({ length: columns * rows }, (_, i) =>
      luminance(30 + ((i % columns) / columns) * 40),
    );
    const out = adjusted(slope, 1);
    for (let x = 15; x < columns - 15; x++) {
      const at = 40 * columns + x;
      expect(Math.abs(lightness(out[at]) - lightness(slope[at]))).toBeLessThan(0.05);
    }
  });

  it("takes the surroundings from a smaller picture of the same", () => {
    // A slope in L*: its surroundings are the slope itself, at any scale, away from the edges.
    const slope = (x: number, count: number) => 20 + (60 * (x + 0.5)) / count;
    const small = Float32Array.from({ length: 60 * 40 }, (_, i) => luminance(slope(i % 60, 60)));
    const surroundings = surroundingsOf(small, 60, 40);
    const row = Float32Array.from({ length: 1000 }, (_, x) => luminance(slope(x, 1000)));
    const before = row.slice();
    addLocalContrast(row, 300, 600, surroundings, 1);
    for (let x = 150; x < 850; x++) {
      expect(Math.abs(lightness(row[x]) - lightness(before[x]))).toBeLessThan(0.02);
    }
  });

  it("keeps within 0..1", () => {
    const random = seededRandom(3);
    const plane = Float32Array.from({ length: columns * rows }, () => (random() < 0.5 ? 0 : 1));
    const out = adjusted(plane, 2);
    expect(Math.min(...out)).toBe(0);
    expect(Math.max(...out)).toBe(1);
  });
});
