import type { PlanRow } from "../../../src/6-report/plan.js";

const ends = { at50: 7, at10: 9 };

/** A row of a plan of a photo, of no machine in particular. */
export function madeUpRow({ linesPerInch = 254, ...changes }: Partial<PlanRow>): PlanRow {
  return {
    ...{ lens: 0, linesPerInch, pitchMm: 25.4 / linesPerInch, overdrive: linesPerInch / 254 },
    ...{ columns: 500, rows: 500, seconds: 100, lines: 500, beamOnSeconds: 50 },
    ...{ gapMm: 0, overlap: 0.5, markWidthMm: 0.1, markGapMm: 0, ripple: 0, peakDose: 1 },
    ...{ doseFactor: 1, powerFactor: 1 },
    detail: {
      alongLpPerMm: ends,
      acrossLpPerMm: ends,
      limitedBy: "spot",
      alongLimits: { spotLpPerMm: 7, pitchLpPerMm: 10, limitedBy: "spot" },
    },
    ...changes,
  };
}
