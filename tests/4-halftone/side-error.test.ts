import { expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { halftoneBits } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

const diffusions = halftoneMethods.filter(({ leadInRows }) => leadInRows > 0);

/*
 * Beside a tint, a margin that asks for nothing: lines that all run the same way carry error into it, and on to the side, where
 * no pixel can take it. When a tint follows below, its edge must not make up for all of the rows above.
 */
it.each(diffusions.map((method) => [method.id, method] as const))(
  "%s: a tall bare margin leaves no debt to the tint below it",
  (_id, method) => {
    const [columns, rows, tintRows] = [24, 3000, 60];
    for (const tint of [0.31, 0.5, 0.69]) {
      for (const margin of [0, 1]) {
        const fractions = Float32Array.from({ length: columns * (rows + tintRows) }, (_, i) =>
          i >= columns * rows || i % columns < 8 ? tint : margin,
        );
        const settings = halftoneSettings({ scan: "raster" });
        const bits = halftoneBits(method, fractions, columns, rows + tintRows, settings);
        const edge = bits.filter((_, i) => i >= columns * rows && i % columns >= columns - 2);
        const mean = edge.reduce((sum, bit) => sum + bit, 0) / edge.length;
        // Without a limit it comes out as 0.5 for 0.69 by Floyd and Steinberg's stencil, and as 0.12 by Jarvis, Judice and Ninke's.
        expect(Math.abs(mean - tint)).toBeLessThan(0.1);
      }
    }
  },
);
