import { describe, expect, it } from "vitest";
import { resampleFilters } from "../../src/3-resample/filters.js";
import { resample, resampledRows, type SourceRows } from "../../src/3-resample/resample.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { denseData, type Plane } from "../../src/core/plane.js";
import { noise, whole } from "./pictures.js";

/** Rows of a plane, and the order in which they were asked for. */
function rowsOf(source: Plane<"luminance">, columns: number, asked: number[] = []): SourceRows {
  const data = denseData(source);
  return (row, out, at, step) => {
    asked.push(row);
    for (let x = 0; x < columns; x++) out[at + x * step] = data[row * columns + x];
  };
}

describe.each(resampleFilters)("row by row by %s", (filter) => {
  it.each([
    [9, 7],
    [27, 19],
    [61, 40],
    [4, 90],
  ])("gives the same bits with and without SIMD, forwards and backwards, %d × %d", (columns, rows) => {
    const source = noise(19, 27, 8);
    const window = { left: 0.3, top: 2.6, width: 25.5, height: 16.2 };
    const options = { sourceColumns: 27, sourceRows: 19, window, columns, rows };
    const filters = { filterAlong: filter, filterAcross: filter };
    const expected = denseData(resample(source, window, columns, rows, filter));
    for (const form of ["plain", "simd"] as const) {
      const memory = createKernelMemory(form);
      expect(memory.simd === undefined).toBe(form === "plain");
      const row = resampledRows({ ...options, ...filters }, rowsOf(source, 27), memory);
      const upwards = new Float32Array(columns * rows);
      for (let y = rows - 1; y >= 0; y--) upwards.set(row(y), y * columns);
      expect(upwards).toEqual(expected);
      const downwards = new Float32Array(columns * rows);
      for (let y = 0; y < rows; y++) downwards.set(row(y), y * columns);
      expect(downwards).toEqual(expected);
    }
  });
});

describe("resampledRows", () => {
  it("asks for each source row once, in order, and for none out of the filter's reach", () => {
    const asked: number[] = [];
    const row = resampledRows(
      {
        sourceColumns: 5,
        sourceRows: 100,
        columns: 5,
        rows: 10,
        window: { left: 0, top: 40, width: 5, height: 20 },
        filterAcross: "triangle",
      },
      (j, out, at, step) => {
        asked.push(j);
        // Scale 2: the triangle reaches 2 pixels beyond the centres at 41, 43, ... 59, so rows 39 to 60 count.
        const needed = j >= 39 && j <= 60;
        for (let x = 0; x < 5; x++) out[at + x * step] = needed ? 0.5 : Number.NaN;
      },
    );
    for (let y = 0; y < 10; y++) {
      expect(row(y).every((value) => Math.abs(value - 0.5) < 1e-6)).toBe(true);
    }
    expect(asked).toEqual(Array.from({ length: asked.length }, (_, k) => 39 + k));
    expect(asked.length).toBeLessThanOrEqual(25);
  });

  it("filters each axis by its own filter, lanczos3 unless said", () => {
    const source = noise(9, 5, 3);
    const run = (filters: object): number[] => {
      const job = { sourceColumns: 5, sourceRows: 9, window: whole(5, 9), columns: 10, rows: 18 };
      const row = resampledRows({ ...job, ...filters }, rowsOf(source, 5));
      return Array.from({ length: 18 }, (_, y) => [...row(y)]).flat();
    };
    expect(run({})).toEqual(run({ filterAlong: "lanczos3", filterAcross: "lanczos3" }));
    expect(run({ filterAlong: "box" })).toEqual(run({ filterAlong: "box", filterAcross: "lanczos3" }));
    expect(run({ filterAcross: "box" })).toEqual(run({ filterAlong: "lanczos3", filterAcross: "box" }));
    expect(run({})).toEqual([...denseData(resample(source, whole(5, 9), 10, 18))]);
    // At factor 2 a box repeats each pixel of its axis, and no other filter does.
    const boxAlong = run({ filterAlong: "box", filterAcross: "mitchell" });
    const boxAcross = run({ filterAlong: "mitchell", filterAcross: "box" });
    expect(boxAlong[0]).toBe(boxAlong[1]);
    expect(boxAcross[0]).not.toBe(boxAcross[1]);
    expect(boxAcross.slice(0, 10)).toEqual(boxAcross.slice(10, 20));
    expect(boxAlong.slice(0, 10)).not.toEqual(boxAlong.slice(10, 20));
  });
});
