import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import type { HalftoneMethod } from "../../src/4-halftone/method.js";
import { halftoneBits } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { seamStandsOut, seamStatistics } from "../support/seam.js";

const COLUMNS = 528;
const ROWS = 480;

/** The same in every column: tones from almost bare to almost solid and back, so that every tint is seen. */
const tones = Float32Array.from({ length: COLUMNS * ROWS }, (_, i) => {
  const down = Math.floor(i / COLUMNS) / ROWS;
  return 0.5 - 0.48 * Math.cos(2 * Math.PI * down);
});

const ringMethods = halftoneMethods.filter(({ flatOnly }) => !flatOnly);

/** Five boundaries beat the other 523 by chance once in a hundred times, and then not by much. */
const SHOWS = 1.2;

const outstanding = (method: HalftoneMethod, ringColumns: number, scan: "serpentine" | "raster") => {
  const settings = halftoneSettings({ ringColumns, scan, screenLinesPerInch: 36 });
  return seamStandsOut(seamStatistics(halftoneBits(method, tones, COLUMNS, ROWS, settings), COLUMNS));
};

describe.each(["serpentine", "raster"] as const)("where a ring closes, scanned %s,", (scan) => {
  it.each(ringMethods.map((method) => [method.id, method] as const))(
    "%s shows no more than between any other columns",
    (_id, method) => {
      for (const [respect, ratio] of Object.entries(outstanding(method, COLUMNS, scan))) {
        expect(ratio, respect).toBeLessThan(SHOWS);
      }
    },
  );

  // One scan is enough to see that the measure sees a seam.
  if (scan !== "serpentine") return;
  it("a flat bitmap rolled up would show, by every family that is not a grid of 16", () => {
    const shown = new Set(
      ringMethods
        .filter((method) => Object.values(outstanding(method, 0, scan)).some((ratio) => ratio > SHOWS))
        .map(({ family }) => family),
    );
    expect([...shown].sort()).toEqual([
      "blue noise",
      "clustered dot",
      "dot diffusion",
      "error diffusion",
      "green noise",
      "variable-coefficient diffusion",
    ]);
  });
});
