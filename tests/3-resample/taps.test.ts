import { describe, expect, it } from "vitest";
import { filterDefinitions, resampleFilters } from "../../src/3-resample/filters.js";
import { planTaps, type Taps } from "../../src/3-resample/taps.js";

/** [source length, start, end, output length]: whole and fractional windows, both directions, tiny sources. */
const axes: [number, number, number, number][] = [
  [40, 0, 40, 40],
  [40, 0, 40, 5],
  [40, 0, 40, 17],
  [40, 0, 40, 320],
  [40, 3.3, 31.7, 11],
  [40, 3.3, 31.7, 97],
  [40, 0.5, 39.5, 39],
  [40, 12.25, 12.5, 8],
  [1, 0, 1, 9],
  [2, 0.9, 2, 1],
  [7, 0, 7, 1],
];

function weightsOf(taps: Taps, i: number): Map<number, number> {
  const at = i * taps.stride;
  return new Map(Array.from({ length: taps.counts[i] }, (_, k) => [taps.first[i] + k, taps.weights[at + k]]));
}

describe.each(resampleFilters)("taps of %s", (filter) => {
  it.each(axes)("stay inside %d samples, [%d, %d) onto %d", (sourceLength, start, end, outputLength) => {
    const taps = planTaps(filter, sourceLength, start, end, outputLength);
    expect(taps.weights.length).toBe(outputLength * taps.stride);
    expect(taps.stride).toBe(Math.max(...taps.counts));
    for (let i = 0; i < outputLength; i++) {
      const last = taps.first[i] + taps.counts[i] - 1;
      expect(taps.first[i]).toBeGreaterThanOrEqual(0);
      expect(taps.counts[i]).toBeGreaterThanOrEqual(1);
      expect(taps.counts[i]).toBeLessThanOrEqual(taps.stride);
      expect(last).toBeLessThan(sourceLength);
      if (i > 0) {
        expect(taps.first[i]).toBeGreaterThanOrEqual(taps.first[i - 1]);
        expect(last).toBeGreaterThanOrEqual(taps.first[i - 1] + taps.counts[i - 1] - 1);
      }
      const row = taps.weights.subarray(i * taps.stride, (i + 1) * taps.stride);
      expect(Math.abs(row.reduce((a, b) => a + b, 0) - 1)).toBeLessThan(1e-14);
      expect(row.subarray(taps.counts[i]).every((weight) => weight === 0)).toBe(true);
    }
  });

  it.each(axes.slice(1))(
    "are the filter itself on %d samples, [%d, %d) onto %d",
    (sourceLength, start, end, n) => {
      const taps = planTaps(filter, sourceLength, start, end, n);
      const scale = (end - start) / n;
      for (let i = 0; i < n; i++) {
        // Every sample of the picture, from the definition: centred on j + 0.5, stretched only when reducing.
        const raw = Array.from({ length: sourceLength }, (_, j) =>
          filterDefinitions[filter].weight((j + 0.5 - (start + (i + 0.5) * scale)) / Math.max(1, scale)),
        );
        const sum = raw.reduce((a, b) => a + b, 0);
        const planned = weightsOf(taps, i);
        for (let j = 0; j < sourceLength; j++) expect(planned.get(j) ?? 0).toBeCloseTo(raw[j] / sum, 12);
      }
    },
  );

  it("copy where a pixel falls on a pixel, also by a window with rounding in it", () => {
    for (const start of [0, 7, 0.1 + 0.2 + 0.7]) {
      const taps = planTaps(filter, 40, start, start + 21, 21);
      expect([...taps.first]).toEqual(Array.from({ length: 21 }, (_, i) => Math.round(start) + i));
      expect(new Set(taps.counts)).toEqual(new Set([1]));
      expect(taps.weights.every((weight, k) => weight === (k % taps.stride === 0 ? 1 : 0))).toBe(true);
    }
  });
});

describe("planTaps", () => {
  it.each([
    [40, -0.5, 20, 10],
    [40, 20, 40.5, 10],
    [40, 20, 20, 10],
    [40, 20, 10, 10],
    [40, 0, 40, 0],
    [40, 0, 40, 2.5],
    [0, 0, 0, 4],
    [40, Number.NaN, 40, 4],
    [40, 0, Number.POSITIVE_INFINITY, 4],
  ])("refuses %d samples, [%d, %d) onto %d", (sourceLength, start, end, outputLength) => {
    expect(() => planTaps("lanczos3", sourceLength, start, end, outputLength)).toThrowError(
      expect.objectContaining({ code: "INTERNAL" }),
    );
  });
});
