import { describe, expect, it } from "vitest";
import { type LensSetup, spotOfLens, usualIndex } from "../../../src/core/physics/lens.js";
import { checkNumber, checkValue } from "../../support/check-values.js";

// Sources of the numbers are in tests/data/check-values.json: Siegman, Lasers (1986), ch. 17; ISO 11146-1;
// third-order aberration after Jenkins & White.
function lens(id: string, more: Partial<LensSetup> = {}): LensSetup {
  const { M2, wavelength_mm, f_mm, D_mm } = checkValue(id).inputs;
  return {
    propagationRatio: M2,
    wavelengthMm: wavelength_mm,
    focalLengthMm: f_mm,
    beamDiameterMm: D_mm,
    shape: "ideal",
    defocusMm: 0,
    ...more,
  };
}

describe("spot of a lens", () => {
  it.each(["co2-2in", "co2-2in-m1", "co2-2p5in", "fibre-160", "diode-450"])(
    "has the focus and the depth of the table: %s",
    (name) => {
      const { spotMm, focusMm, aberrationMm, depthOfFocusMm } = spotOfLens(lens(`beam.focus.${name}.d`));
      expect(spotMm / checkNumber(`beam.focus.${name}.d`)).toBeCloseTo(1, 6);
      expect(focusMm).toBe(spotMm);
      expect(aberrationMm).toBe(0);
      expect(depthOfFocusMm / checkNumber(`beam.focus.${name}.dof5`)).toBeCloseTo(1, 6);
    },
  );

  it.each(["0.25", "0.5", "1.0", "2.0"])("grows out of focus as the table has it: %s mm", (z) => {
    const { spotMm } = spotOfLens(lens("beam.focus.co2-2in.d", { defocusMm: -Number(z) }));
    expect(spotMm / checkNumber(`beam.defocus.${z}`)).toBeCloseTo(1, 6);
  });

  it("adds the blur of a plano-convex lens, least in best form and most the wrong way round", () => {
    const setup = { beamDiameterMm: 10, focalLengthMm: 63.5 };
    const of = (shape: LensSetup["shape"]) => spotOfLens(lens("beam.focus.co2-2in.d", { ...setup, shape }));
    const blur = checkNumber("optics.sa.blur.pc.63.5-10.0");
    expect(of("plano-convex").aberrationMm / blur).toBeCloseTo(1, 5);
    expect(of("plano-convex").spotMm).toBeCloseTo(of("ideal").spotMm + blur, 6);
    const ratio = (other: string) => checkNumber(other) / checkNumber("optics.sa.k.planoconvex");
    expect(of("best-form").aberrationMm / blur).toBeCloseTo(ratio("optics.sa.k.bestform"), 4);
    expect(of("plano-convex-reversed").aberrationMm / blur).toBeCloseTo(ratio("optics.sa.k.reversed"), 4);
  });

  it("takes zinc selenide in the far infrared, glass below, and what it is told", () => {
    expect(usualIndex(0.0106)).toBeCloseTo(checkNumber("optics.znse.n10.6"), 6);
    expect(usualIndex(0.00045)).toBe(1.5);
    const glass = lens("beam.focus.diode-450.d", { shape: "best-form" });
    const k = checkNumber("optics.sa.k.bestform.n1.5");
    const expected = (k * glass.beamDiameterMm ** 3) / glass.focalLengthMm ** 2;
    expect(spotOfLens(glass).aberrationMm / expected).toBeCloseTo(1, 6);
    expect(spotOfLens({ ...glass, index: 2 }).aberrationMm).not.toBeCloseTo(expected, 6);
  });
});
