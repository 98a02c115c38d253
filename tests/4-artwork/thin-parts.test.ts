import { describe, expect, it } from "vitest";
import { tallyThinParts } from "../../src/4-artwork/thin-parts.js";

describe("thin parts", () => {
  it("add up to their length; parts from the limit up do not count", () => {
    const tally = tallyThinParts(0.1);
    tally.add(0.05, 2);
    tally.add(0.0999, 3);
    tally.add(0.1, 50);
    tally.add(0.4, 50);
    expect(tally.parts().lengthMm).toBeCloseTo(5, 12);
  });

  it("are as thin as a width that a twentieth falls below, so that a tapered end does not count", () => {
    const tally = tallyThinParts(0.1);
    tally.add(0.001, 0.4);
    tally.add(0.06, 9.6);
    // In steps of a 64th of the limit.
    expect(Math.abs(tally.parts().thinnestMm - 0.06)).toBeLessThan(0.1 / 64);
  });

  it("may be none", () => {
    expect(tallyThinParts(0.1).parts()).toEqual({ lengthMm: 0, thinnestMm: 0 });
  });
});
