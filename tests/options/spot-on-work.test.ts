import { describe, expect, it } from "vitest";
import { type PrepareOptions, resolveOptions } from "../../src/options/options.js";
import {
  checkPlanOptions,
  type PlanOptions,
  planLenses,
  preparedPart,
} from "../../src/options/plan-options.js";
import { checkNumber, checkValue } from "../support/check-values.js";
import { refusalOf } from "../support/refusal.js";

// ISO 11146-1: d(z) = d0·√(1 + (z/z_R)²), tabulated in tests/data/check-values.json for the beam of "beam.focus.co2-2in.d".
const { M2: propagationRatio, wavelength_mm: wavelengthMm } = checkValue("beam.focus.co2-2in.d").inputs;
const spotMm = checkNumber("beam.focus.co2-2in.d");
const beam = { wavelengthMm, propagationRatio };
const table = ["0.25", "0.5", "1.0", "2.0"] as const;

describe("a measured spot beside the focus", () => {
  it.each(table)("is as wide as in the table, %s mm on either side", (z) => {
    for (const defocusMm of [Number(z), -Number(z)]) {
      const { spot, outOfFocus } = resolveOptions({ spotMm, defocusMm, ...beam });
      expect(spot.acrossMm / checkNumber(`beam.defocus.${z}`)).toBeCloseTo(1, 6);
      expect(spot.alongMm).toBe(spot.acrossMm);
      expect(outOfFocus).toEqual({ defocusMm, focusSpot: { alongMm: spotMm, acrossMm: spotMm } });
    }
  });

  it.each(table)("is the same in a plan: %s mm", (z) => {
    const defocusMm = Number(z);
    const options = checkPlanOptions({ spotMm: [spotMm, 0.3], defocusMm, ...beam });
    const [lens, wider] = planLenses(options);
    expect(lens.spot).toEqual(resolveOptions({ spotMm, defocusMm, ...beam }).spot);
    expect(lens.name).toMatch(/^spot 0\.\d+ mm \(0\.118 mm at the focus\)$/);
    expect(wider.spot.acrossMm).toBeGreaterThan(0.3);
    // A row gets the widened spot and must not widen it again.
    expect(resolveOptions({ ...preparedPart(options), spotMm: lens.spot }).spot).toEqual(lens.spot);
  });

  it("widens each way by its own Rayleigh range: the narrow way overtakes the wide one", () => {
    const { spot } = resolveOptions({
      spotMm: { alongMm: 0.1, acrossMm: 0.2 },
      defocusMm: 10,
      wavelengthMm: 0.0106,
    });
    // Siegman 1986: far from the waist d = 4 M² λ z/(π d0), here 13.5 and 3.4 times z_R.
    const farMm = (focusMm: number) => (4 * 0.0106 * 10) / (Math.PI * focusMm);
    expect(spot.alongMm).toBeCloseTo(Math.hypot(0.1, farMm(0.1)), 12);
    expect(spot.acrossMm).toBeCloseTo(Math.hypot(0.2, farMm(0.2)), 12);
  });

  it("decides the default density like a spot that was measured there", () => {
    const { spot, pitch } = resolveOptions({ spotMm, defocusMm: 1, ...beam });
    expect(pitch).toEqual(resolveOptions({ spotMm: spot }).pitch);
  });

  it("is as measured in focus, whatever the beam", () => {
    expect(resolveOptions({ spotMm, ...beam })).toMatchObject({
      spot: { alongMm: spotMm, acrossMm: spotMm },
      outOfFocus: undefined,
    });
  });

  it.each<[string, PrepareOptions & PlanOptions, string, RegExp]>([
    ["no wavelength", { defocusMm: 1 }, "OPTION_CONFLICT", /Give wavelengthMm/],
    [
      "a spot beyond the model",
      { defocusMm: 100, wavelengthMm: 0.0106 },
      "OPTION_TOO_LARGE",
      /to 13\.5 mm.*nearer/,
    ],
  ])("is refused with %s", (_, options, code, words) => {
    for (const resolve of [resolveOptions, (given: PlanOptions) => planLenses(checkPlanOptions(given))]) {
      const refusal = refusalOf(() => resolve(options));
      expect(refusal).toMatchObject({ code, option: "defocusMm" });
      expect(refusal.message).toMatch(words);
    }
  });
});
