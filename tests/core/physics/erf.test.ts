import { describe, expect, it } from "vitest";
import { erfc, scaledErfc } from "../../../src/core/physics/erf.js";
import { askReference, hasReference } from "../../support/reference.js";

describe("complementary error function", () => {
  // M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964), table 7.1; typed from memory, confirmed
  // with SciPy.
  it.each([
    [0, 0],
    [0.05, 0.0563719778],
    [0.1, 0.112462916],
    [0.2, 0.2227025892],
    [0.5, 0.5204998778],
    [1, 0.8427007929],
    [1.5, 0.9661051465],
    [2, 0.995322265],
  ])("erfc(%d) = 1 − %d as in the table, to its ten decimals", (x, erf) => {
    expect(Math.abs(erfc(x) - (1 - erf))).toBeLessThanOrEqual(0.51e-10);
    expect(Math.abs(erfc(-x) - (1 + erf))).toBeLessThanOrEqual(0.51e-10);
  });

  it("reaches 0 and 2, and says nothing of what is not a number", () => {
    expect(erfc(Number.POSITIVE_INFINITY)).toBe(0);
    expect(erfc(Number.NEGATIVE_INFINITY)).toBe(2);
    expect(erfc(Number.NaN)).toBeNaN();
  });

  it.skipIf(!hasReference())("agrees with SciPy from −6 to 20", () => {
    const x = Array.from({ length: 1041 }, (_, i) => -6 + i / 40);
    const reference = askReference<Record<"erfc" | "erfcx", number[]>>("scipy_values.py", {
      task: "erf",
      x,
    });
    x.forEach((at, i) => {
      expect(Math.abs(erfc(at) / reference.erfc[i] - 1), `erfc(${at})`).toBeLessThan(1e-12);
      if (at >= 0) {
        expect(Math.abs(scaledErfc(at) / reference.erfcx[i] - 1), `scaled erfc(${at})`).toBeLessThan(1e-12);
      }
    });
  });

  it("scaled, falls like 1/(x√π) where erfc itself is too small for a number", () => {
    // First two terms of the asymptotic series, Abramowitz & Stegun 7.1.23; the third is 3/(4x⁴), below 1e-11 here.
    const x = 1000;
    expect(erfc(x)).toBe(0);
    expect(scaledErfc(x) * x * Math.sqrt(Math.PI)).toBeCloseTo(1 - 1 / (2 * x * x), 11);
  });
});
