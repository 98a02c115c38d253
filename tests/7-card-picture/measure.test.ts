import { expect, it } from "vitest";
import type { CardView } from "../../src/7-card-picture/card-view.js";
import { measurePatches } from "../../src/7-card-picture/measure.js";
import { wholePeriods } from "../../src/7-card-picture/whole-periods.js";

/** Twenty pixels to a mm, seen straight. */
const view: CardView = {
  ...{ homography: [20, 0, 0, 0, 20, 0, 0, 0, 1], radial: 0, middle: [100, 100], halfDiagonalPx: 141 },
};

/** Soft stripes about a mean of 0.5: light at a pixel is the mean of a cosine over it. */
function stripes(periodMm: number, phase: number, isAlong: boolean) {
  const light = Float32Array.from({ length: 200 * 200 }, (_, i) => {
    const at = ((isAlong ? i % 200 : Math.floor(i / 200)) + 0.5) / 20;
    return 0.5 + 0.4 * Math.cos((2 * Math.PI * at) / periodMm + phase);
  });
  return { columns: 200, rows: 200, light };
}

// Over whole periods a cosine has no mean, wherever it begins.
it.each([0.5, 0.7, 1.1, 1.9])("a pattern of %f mm has its mean, whatever its phase", (periodMm) => {
  for (const isAlong of [true, false]) {
    for (const phase of [0, 1, 2, 3, 4, 5]) {
      const areas = [
        {
          ...{ leftMm: 2, topMm: 3, widthMm: 3, heightMm: 3 },
          periodMm: isAlong ? { alongMm: periodMm, acrossMm: 0.1 } : { alongMm: 0.1, acrossMm: periodMm },
        },
      ];
      const [{ light }] = measurePatches(stripes(periodMm, phase, isAlong), view, areas, 0);
      expect(Math.abs(light - 0.5)).toBeLessThan(0.004);
    }
  }
});

it("whole periods lie in the middle of a side, within its rims", () => {
  const { fromMm, lengthMm } = wholePeriods(10, 3, { rimMm: 0.3, periodMm: 0.5 });
  expect([fromMm, lengthMm]).toEqual([10.5, 2]);
  expect(wholePeriods(10, 3, { rimMm: 0.3, periodMm: 0.8 }).lengthMm).toBeCloseTo(2.4, 12);
  // None fits: all there is.
  expect(wholePeriods(10, 3, { rimMm: 0.3, periodMm: 2.5 })).toEqual({ fromMm: 10.3, lengthMm: 2.4 });
});
