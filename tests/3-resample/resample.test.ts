import { describe, expect, it } from "vitest";
import { type ResampleFilter, resampleFilters } from "../../src/3-resample/filters.js";
import { resample } from "../../src/3-resample/resample.js";
import { denseData, plane } from "../../src/core/plane.js";
import { farthest, type Luminance, noise, painted, whole } from "./pictures.js";

const factors = [1 / 8, 0.37, 0.5, 1, 1.7, 2, 3.3, 8];

/**
 * Displacement of a Gaussian blob at a known fractional place, in output pixels along and across. Its standard deviation is
 * `sigma` pixels of the coarser grid. A constant is added, so that no negative lobe is clamped. The factor across is another
 * one of the list.
 */
function blobShift(filter: ResampleFilter, factor: number, sigma: number, start: number): [number, number] {
  const axis = (f: number) => {
    const sigmaPx = sigma * Math.max(1, 1 / f);
    const length = Math.ceil(13 * sigmaPx);
    const at = length / 2 + 0.3;
    const bell = Array.from({ length }, (_, i) => Math.exp(-0.5 * ((i + 0.5 - at) / sigmaPx) ** 2));
    const pixels = Math.floor((length - 2) * f);
    return { bell, length, pixels, extent: pixels / f, expected: (at - start) * f };
  };
  const x = axis(factor);
  const y = axis(factors[(factors.indexOf(factor) + 3) % factors.length]);
  const source = painted(y.length, x.length, (i, j) => 0.25 + 0.5 * x.bell[i] * y.bell[j]);
  const window = { left: start, top: start, width: x.extent, height: y.extent };
  const result = denseData(resample(source, window, x.pixels, y.pixels, filter));
  let mass = 0;
  let momentX = 0;
  let momentY = 0;
  for (let i = 0; i < result.length; i++) {
    const light = result[i] - 0.25;
    mass += light;
    momentX += light * ((i % x.pixels) + 0.5);
    momentY += light * (Math.floor(i / x.pixels) + 0.5);
  }
  return [momentX / mass - x.expected, momentY / mass - y.expected];
}

describe.each(resampleFilters)("resampling by %s", (filter) => {
  it.each(factors)("keeps the place of a blob, factor %d along and another across", (factor) => {
    // A box reads whole samples. At fractional factors its place varies by up to half a sample, and only a wide blob averages it.
    const [shiftX, shiftY] = blobShift(filter, factor, filter === "box" ? 30 : 3, 1);
    expect(Math.abs(shiftX)).toBeLessThan(1e-3);
    expect(Math.abs(shiftY)).toBeLessThan(1e-3);
  });

  it("leaves a constant alone at any factor and window", () => {
    for (const value of [0, 0.2, 0.731, 1]) {
      const source = painted(23, 31, () => value);
      for (const factor of factors) {
        for (const window of [whole(31, 23), { left: 3.21, top: 0, width: 17.6, height: 22.9 }]) {
          const columns = Math.max(1, Math.round(window.width * factor));
          const rows = Math.max(1, Math.round(window.height * factor));
          const result = denseData(resample(source, window, columns, rows, filter));
          expect(farthest(result, new Float32Array(result.length).fill(value))).toBeLessThan(1e-6);
        }
      }
    }
  });

  it("copies bit for bit at factor 1 from a whole offset", () => {
    const source = noise(19, 27, 5);
    const window = { left: 4, top: 6, width: 20, height: 11 };
    const data = denseData(source);
    const expected = Float32Array.from(
      { length: 220 },
      (_, i) => data[(6 + Math.floor(i / 20)) * 27 + 4 + (i % 20)],
    );
    expect(denseData(resample(source, window, 20, 11, filter))).toEqual(expected);
    expect(denseData(resample(source, whole(27, 19), 27, 19, filter))).toEqual(data);
  });

  it.each([
    [9, 7],
    [16, 20],
    [27, 19],
    [77, 54],
  ])("mirrors when the source is mirrored, to %d × %d", (columns, rows) => {
    const source = noise(19, 27, 6);
    const data = denseData(source);
    const window = { left: 2.25, top: 1.5, width: 20.125, height: 14.75 };
    const mirroredWindow = { ...window, left: 27 - 2.25 - 20.125, top: 19 - 1.5 - 14.75 };
    // Half a turn mirrors both axes: row-major data read backwards.
    const turned = plane("luminance", data.slice().reverse(), 19, 27);
    const result = denseData(resample(source, window, columns, rows, filter));
    const mirrored = denseData(resample(turned, mirroredWindow, columns, rows, filter)).reverse();
    expect(farthest(result, mirrored)).toBeLessThan(1e-6);
  });

  it("transposes when the source is transposed, so that both axes work alike", () => {
    const source = noise(19, 27, 7);
    const turned: Luminance = { space: "luminance", pixels: source.pixels.transpose(1, 0) };
    const window = { left: 2.3, top: 1.1, width: 20.2, height: 14.4 };
    const turnedWindow = { left: 1.1, top: 2.3, width: 14.4, height: 20.2 };
    const result = resample(source, window, 45, 8, filter);
    const across = resample(turned, turnedWindow, 8, 45, filter);
    const back: Luminance = { space: "luminance", pixels: across.pixels.transpose(1, 0) };
    // The axes are rounded to single precision in another order.
    expect(farthest(denseData(result), denseData(back))).toBeLessThan(1e-6);
  });

  it("leaves the source unchanged", () => {
    const source = noise(19, 27, 9);
    const before = denseData(source).slice();
    resample(source, { left: 1.5, top: 0, width: 20, height: 19 }, 33, 12, filter);
    expect(denseData(source)).toEqual(before);
  });
});

describe("a window from a fraction of a pixel", () => {
  // Cubics and triangle reproduce a ramp, and so the place. Lanczos weights do not quite: from the formula, the centre of
  // gravity of the normalised weights at integers, 0.4 from an integer, is 0.017 (two lobes) and 0.011 (three) off.
  // A box takes the nearest sample there and cannot do better than half a pixel.
  it.each([
    ["triangle", 1e-3],
    ["catmull-rom", 1e-3],
    ["mitchell", 1e-3],
    ["lanczos2", 0.018],
    ["lanczos3", 0.012],
  ] as const)("%s keeps the place of a blob within %d", (filter, tolerancePx) => {
    for (const factor of factors) {
      const [shiftX, shiftY] = blobShift(filter, factor, 3, 1.4);
      expect(Math.abs(shiftX)).toBeLessThan(tolerancePx);
      expect(Math.abs(shiftY)).toBeLessThan(tolerancePx);
    }
  });
});

describe("box at whole factors", () => {
  it.each([
    [2, 3],
    [5, 4],
    [7, 1],
  ])("is the mean of each area of %d × %d pixels", (wide, high) => {
    const source = noise(24, 70, 10);
    const data = denseData(source);
    const columns = Math.floor(70 / wide);
    const rows = Math.floor(24 / high);
    const window = { left: 0, top: 0, width: columns * wide, height: rows * high };
    const result = denseData(resample(source, window, columns, rows, "box"));
    const expected = new Float64Array(result.length);
    for (let y = 0; y < rows * high; y++) {
      for (let x = 0; x < columns * wide; x++) {
        expected[Math.floor(y / high) * columns + Math.floor(x / wide)] += data[y * 70 + x] / (wide * high);
      }
    }
    expect(farthest(result, expected)).toBeLessThan(1e-6);
  });

  it("keeps the mean when enlarging", () => {
    const source = noise(11, 13, 11);
    const mean = (values: Float32Array) => values.reduce((a, b) => a + b, 0) / values.length;
    const result = denseData(resample(source, whole(13, 11), 13 * 3, 11 * 4, "box"));
    expect(mean(result)).toBeCloseTo(mean(denseData(source)), 6);
  });
});

describe("stripes finer than the output", () => {
  // A period of exactly one output pixel: every remaining frequency is above the output's Nyquist limit.
  it.each(resampleFilters)("%s turns 2 on, 2 off at 1/4 into their mean", (filter) => {
    for (const shift of [0, 1, 2, 3]) {
      const source = painted(
        64,
        64,
        (x, y) => ((x + shift) % 4 < 2 ? 1 : 0) * 0.5 + ((y + shift) % 4 < 2 ? 0.5 : 0),
      );
      const result = denseData(resample(source, whole(64, 64), 16, 16, filter));
      const inner = Float32Array.from(
        { length: 100 },
        (_, i) => result[(3 + Math.floor(i / 10)) * 16 + 3 + (i % 10)],
      );
      expect(farthest(inner, new Float32Array(100).fill(0.5))).toBeLessThan(filter === "box" ? 1e-6 : 0.02);
    }
  });
});

describe("resample", () => {
  it("clamps overshoot to 0..1, and only at the end", () => {
    const step = painted(16, 16, (x) => (x < 8 ? 0 : 1));
    const result = denseData(resample(step, whole(16, 16), 64, 64, "lanczos3"));
    expect(result.reduce((a, b) => Math.min(a, b))).toBe(0);
    expect(result.reduce((a, b) => Math.max(a, b))).toBe(1);
    // With the same step on 0.3 .. 0.7 nothing is clamped, and the overshoot shows.
    const inside = painted(16, 16, (x) => (x < 8 ? 0.3 : 0.7));
    const free = denseData(resample(inside, whole(16, 16), 64, 64, "lanczos3"));
    const unclamped = free.map((value) => (value - 0.3) / 0.4);
    expect(unclamped.reduce((a, b) => Math.max(a, b))).toBeGreaterThan(1.05);
    expect(
      farthest(
        result,
        unclamped.map((value) => Math.min(1, Math.max(0, value))),
      ),
    ).toBeLessThan(1e-6);
  });

  it("enlarges a single pixel to a flat field", () => {
    const result = denseData(
      resample(
        painted(1, 1, () => 0.4),
        { left: 0, top: 0.2, width: 1, height: 0.5 },
        5,
        3,
      ),
    );
    expect(farthest(result, new Float32Array(15).fill(0.4))).toBeLessThan(1e-7);
  });
});
