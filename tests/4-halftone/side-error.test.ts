import { expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { halftoneBits } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

const diffusions = halftoneMethods.filter(({ leadInRows }) => leadInRows > 0);

/*
 * A tint with a bare margin beside it: lines in one direction carry error into the margin and on to the side, where no pixel can
 * take it. The edge of a tint below must not burn the error of all rows above.
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
        // Without a limit the mean for 0.69 is 0.5 with the stencil of Floyd and Steinberg, and 0.12 with that of Jarvis, Judice and Ninke.
        expect(Math.abs(mean - tint)).toBeLessThan(0.1);
      }
    }
  },
);
