import { describe, expect, it } from "vitest";
import { createBoxMeans, pageBlock } from "../../src/6-report/box-means.js";
import { seededRandom } from "../../src/core/random.js";

describe("means over blocks of rows that come by", () => {
  it.each([
    [1, 1],
    [3, 2],
    [4, 5], // neither divides the picture: blocks at its edges are cut
    [20, 20],
  ])("are those of each block, %i × %i pixels", (along, across) => {
    const [columns, rows] = [13, 11];
    const random = seededRandom(5);
    const codes = Uint16Array.from({ length: columns * rows }, () => Math.floor(8 * random()));
    const meaning = Float32Array.from({ length: 8 }, (_, code) => code / 8);
    const byCode = createBoxMeans(columns, rows, { along, across });
    const byValue = createBoxMeans(columns, rows, { along, across });
    for (let y = 0; y < rows; y++) {
      const row = codes.subarray(y * columns, (y + 1) * columns);
      byCode.addCodes(row, meaning);
      byValue.add(Float32Array.from(row, (code) => meaning[code]));
    }
    const small = byCode.picture();
    expect([small.columns, small.rows]).toEqual([Math.ceil(columns / along), Math.ceil(rows / across)]);
    for (let r = 0; r < small.rows; r++) {
      for (let c = 0; c < small.columns; c++) {
        const inside = [...codes].filter(
          (_, i) => Math.floor((i % columns) / along) === c && Math.floor(i / columns / across) === r,
        );
        const mean = inside.reduce((sum, code) => sum + code / 8, 0) / inside.length;
        expect(small.values[r * small.columns + c]).toBeCloseTo(mean, 6);
      }
    }
    expect(byValue.picture().values).toEqual(small.values);
  });
});

describe("blocks for a page", () => {
  it("are as good as square on the work, however unlike the pitches", () => {
    const [widthMm, heightMm] = [200, 150];
    const { along, across } = pageBlock(widthMm, heightMm, 8000, 1500);
    expect((along * widthMm) / 8000 / ((across * heightMm) / 1500)).toBeCloseTo(1, 0.5);
  });

  it("keep the picture small, and a small one whole", () => {
    for (const columns of [4000, 24000]) {
      const { along } = pageBlock(300, 200, columns, columns / 1.5);
      expect(columns / along).toBeGreaterThan(700);
      expect(columns / along).toBeLessThan(1500);
    }
    expect(pageBlock(12, 9, 240, 180)).toEqual({ along: 1, across: 1 });
  });
});
