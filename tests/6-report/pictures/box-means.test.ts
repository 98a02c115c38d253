import { expect, it } from "vitest";
import { createBoxMeans, meansRow } from "../../../src/6-report/pictures/box-means.js";
import { seededRandom } from "../../../src/core/random.js";

it.each([
  [1, 1],
  [3, 2],
  [4, 5], // neither divides the picture: blocks at its edges are cut
  [20, 20],
])("means of rows that come by are those of each block, %i × %i pixels", (along, across) => {
  const [columns, rows] = [13, 11];
  const random = seededRandom(5);
  const codes = Uint16Array.from({ length: columns * rows }, () => Math.floor(8 * random()));
  const meaning = Float32Array.from({ length: 8 }, (_, code) => code / 8);
  const means = createBoxMeans(columns, rows, { along, across }, meaning);
  for (let y = 0; y < rows; y++) means.add(codes.subarray(y * columns, (y + 1) * columns));
  const small = means.picture();
  expect([small.columns, small.rows]).toEqual([Math.ceil(columns / along), Math.ceil(rows / across)]);
  for (let r = 0; r < small.rows; r++) {
    const row = meansRow(small)(r);
    for (let c = 0; c < small.columns; c++) {
      const inside = [...codes].filter(
        (_, i) => Math.floor((i % columns) / along) === c && Math.floor(i / columns / across) === r,
      );
      const mean = inside.reduce((sum, code) => sum + code / 8, 0) / inside.length;
      expect(row[c]).toBeCloseTo(mean, 4);
    }
  }
});
