import { describe, expect, it } from "vitest";
import { doseStride, exposeRows } from "../../../src/5-burn/exposure.js";
import { planExposure } from "../../../src/5-burn/exposure-plan.js";
import { halfResponseDose } from "../../../src/core/material/half-response.js";
import { packBitmap, rowsOfBitmap } from "../../../src/core/packed-bits.js";
import { denseData } from "../../../src/core/plane.js";
import type { PreparedPiece, PrepareOptions } from "../../../src/index.js";
import { resolveOptions } from "../../../src/options/options.js";
import { steepPoints } from "../../support/materials.js";
import { prepare } from "../../support/prepare.js";

const material = {
  ...{ name: "test surface", bareColor: "#808080", markedColor: "#404040", source: "made up" },
  response: steepPoints,
};

/** Bars of 1 mm and of 0.3 mm that stand across the lines, from 2 to 3 mm and from 5 to 5.3 mm. */
const drawing = Buffer.from(
  `<svg xmlns="http://www.w3.org/2000/svg" width="8mm" height="4mm" viewBox="0 0 8 4"><rect width="8" height="4" fill="#fff"/><rect x="2" y="0.5" width="1" height="3"/><rect x="5" y="0.5" width="0.3" height="3"/></svg>`,
);

/** An edge between pixels has a pattern of seven lines: its place is the mean over them. */
const PATTERN_LINES = 7;

/** Where the dose passes the half response along the middle lines, in mm from the left: means over even lines and over odd lines. */
function edgesMm({ bitmap, report }: PreparedPiece, asked: PrepareOptions): number[][] {
  const { pitch, spot, motion, material: surface } = resolveOptions(asked);
  const { columns, rows } = report.job;
  const half = halfResponseDose(surface.curve);
  // The exposure stage is held against brute force elsewhere.
  const plan = planExposure(pitch, spot, motion, { refinement: 4 });
  const { samplesAlong } = plan;
  const stride = doseStride(columns);
  const middle = Math.floor(rows / 2);
  const sums = [0, 1].map(() => [0, 0, 0, 0]);
  const packed = rowsOfBitmap(packBitmap(denseData(bitmap), columns, rows));
  exposeRows(
    { plan },
    packed,
    { firstRow: middle - PATTERN_LINES, endRow: middle + PATTERN_LINES },
    (dose, y, sample) => {
      if (sample !== Math.floor(plan.samplesAcross / 2)) return;
      const at = (i: number): number => dose[(i % samplesAlong) * stride + Math.floor(i / samplesAlong)];
      const edges: number[] = [];
      for (let i = 1; i < columns * samplesAlong; i++) {
        const [before, here] = [at(i - 1), at(i)];
        if (before >= half === here >= half) continue;
        edges.push(((i - 0.5 + (half - before) / (here - before)) * pitch.alongMm) / samplesAlong);
      }
      expect(edges).toHaveLength(4);
      edges.forEach((edge, k) => {
        sums[y % 2][k] += edge / PATTERN_LINES;
      });
    },
  );
  return sums;
}

describe("solid artwork under a source that starts later than it stops", () => {
  it.each<[string, PrepareOptions]>([
    ["no loss", {}],
    ["both ways", { firingLossUs: 100 }],
    ["one way", { firingLossUs: 100, oneWay: true }],
    ["stopping late", { firingLossUs: -120 }],
    [
      "by more than a pixel, with a lag and shifted lines",
      { firingLossUs: 190, firingLagUs: 40, lineShiftMm: 0.03 },
    ],
  ])("keeps the edges of bars where they are drawn, %s", async (_, more) => {
    const asked: PrepareOptions = {
      ...{ kind: "solid", widthMm: 8, linesPerInch: 508, spotMm: 0.115, speedMmPerS: 400, material },
      ...{ bitmapOnly: true, ...more },
    };
    const piece = await prepare(drawing, asked);
    const lines = edgesMm(piece, asked);
    for (const edges of lines) {
      [2, 3, 5, 5.3].forEach((drawnMm, k) => {
        // As the docs say: a quarter of the pitch.
        expect(Math.abs(edges[k] - drawnMm)).toBeLessThan(0.0125);
      });
    }
  });

  it("has them moved by a loss that nobody knew of", async () => {
    const known: PrepareOptions = {
      ...{ kind: "solid", widthMm: 8, linesPerInch: 508, spotMm: 0.115, speedMmPerS: 400, material },
      ...{ bitmapOnly: true, oneWay: true },
    };
    const piece = await prepare(drawing, known);
    const [even, odd] = edgesMm(piece, { ...known, firingLossUs: 100 });
    // 100 µs at 400 mm/s at the start of each bar.
    const [evenStill, oddStill] = edgesMm(piece, known);
    expect(even[0] - evenStill[0]).toBeCloseTo(0.04, 2);
    expect(even[1] - evenStill[1]).toBeCloseTo(0, 2);
    expect(odd[2] - oddStill[2]).toBeCloseTo(0.04, 2);
  });
});
