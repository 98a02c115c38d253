import { describe, expect, it } from "vitest";
import { resampleFilters } from "../../src/3-resample/filters.js";
import { createRowResampler, resample } from "../../src/3-resample/resample.js";
import { denseData } from "../../src/core/plane.js";
import { noise, whole } from "./pictures.js";

describe.each(resampleFilters)("row by row by %s", (filter) => {
  it.each([
    [9, 7],
    [27, 19],
    [61, 40],
  ])("gives the same bits by rows as by planes, %d × %d", (columns, rows) => {
    const source = noise(19, 27, 8);
    const window = { left: 0.3, top: 2.6, width: 25.5, height: 16.2 };
    const expected = denseData(resample(source, window, columns, rows, filter));
    const streamed = new Float32Array(columns * rows).fill(-1);
    const order: number[] = [];
    const options = { sourceColumns: 27, sourceRows: 19, window, columns, rows };
    const resampler = createRowResampler(
      { ...options, filterAlong: filter, filterAcross: filter },
      (row, y) => {
        order.push(y);
        streamed.set(row, y * columns);
      },
    );
    const data = denseData(source);
    for (let y = 0; y < 19; y++) resampler.push(data.slice(y * 27, y * 27 + 27));
    expect(order).toEqual(Array.from({ length: rows }, (_, y) => y));
    expect(streamed).toEqual(expected);
  });
});

describe("createRowResampler", () => {
  const options = {
    sourceColumns: 5,
    sourceRows: 100,
    columns: 5,
    window: { left: 0, top: 40, width: 5, height: 20 },
  };

  it("emits each row as soon as the filter has seen enough, and asks nothing of rows out of its reach", () => {
    const rows = 10;
    const seen: [y: number, sourceRow: number][] = [];
    let sourceRow = 0;
    const resampler = createRowResampler({ ...options, rows, filterAcross: "triangle" }, (row, y) => {
      seen.push([y, sourceRow]);
      expect(row.every((value) => Math.abs(value - 0.5) < 1e-6)).toBe(true);
    });
    for (; sourceRow < 100; sourceRow++) {
      // Scale 2: the triangle reaches 2 pixels beyond the centres at 41, 43, ... 59, so rows 39 to 60 count.
      const needed = sourceRow >= 39 && sourceRow <= 60;
      resampler.push(new Float32Array(5).fill(needed ? 0.5 : Number.NaN));
    }
    expect(seen).toEqual(Array.from({ length: rows }, (_, y) => [y, 42 + 2 * y]));
  });

  it("filters each axis by its own filter, lanczos3 unless said", () => {
    const source = noise(9, 5, 3);
    const data = denseData(source);
    const run = (filters: object): number[] => {
      const values: number[] = [];
      const job = { sourceColumns: 5, sourceRows: 9, window: whole(5, 9), columns: 10, rows: 18 };
      const resampler = createRowResampler({ ...job, ...filters }, (row) => values.push(...row));
      for (let y = 0; y < 9; y++) resampler.push(data.subarray(y * 5, y * 5 + 5));
      return values;
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

  it("refuses a row of another length, and one too many", () => {
    const internal = expect.objectContaining({ code: "INTERNAL" });
    const resampler = createRowResampler({ ...options, rows: 3 }, () => {});
    expect(() => resampler.push(new Float32Array(4))).toThrowError(internal);
    for (let y = 0; y < 100; y++) resampler.push(new Float32Array(5));
    expect(() => resampler.push(new Float32Array(5))).toThrowError(internal);
  });
});
