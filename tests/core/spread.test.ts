import { expect, it } from "vitest";
import { commonFromDoseSpread, doseSpreadOf } from "../../src/core/spread.js";

it("a dose spread of three equal weights 1 − s, 1, 1 + s has the standard deviation s·√(2/3), and back", () => {
  // By hand: (0.1² + 0 + 0.1²)/3 = 0.00666…, whose root is 0.0816497.
  expect(commonFromDoseSpread(0.1)).toBeCloseTo(0.0816497, 7);
  expect(doseSpreadOf({ common: 0.0816497 })).toBeCloseTo(0.1, 6);
});
