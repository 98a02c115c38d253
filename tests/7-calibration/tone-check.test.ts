import { describe, expect, it } from "vitest";
import { judgeTones, type SeenTone } from "../../src/7-calibration/tone-check.js";
import { luminanceFromLightness } from "../../src/core/physics/lightness.js";

/*
 * Tones that are linear in ln dose, so that what a dose does is known: at the dose f a tone lies at L* + slope · ln f.
 */
const DOSES = [0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.35, 1.5, 1.7];
const TONES = [
  { lightness: 75, slope: -6 },
  { lightness: 60, slope: -25 },
  { lightness: 45, slope: -30 },
  { lightness: 35, slope: -10 },
];

/** @param at L* of the patches of tone k */
const tones = (at: (tone: (typeof TONES)[number], k: number) => readonly number[]): SeenTone[] =>
  TONES.map((tone, k) => ({
    name: `tone-${k + 1}`,
    wanted: luminanceFromLightness(tone.lightness),
    predicted: DOSES.map((dose) => luminanceFromLightness(tone.lightness + tone.slope * Math.log(dose))),
    measured: at(tone, k).map(luminanceFromLightness),
    hidden: 0,
  }));

const repeated = (lightness: number): number[] => [-0.3, 0.3, -0.1, 0.1, 0].map((off) => lightness + off);
const atDose = (dose: number) =>
  tones(({ lightness, slope }) => repeated(lightness + slope * Math.log(dose)));

describe("tones of a check card", () => {
  it("are within the band if they are as predicted, or nearly", () => {
    const { verdict, steps, dose } = judgeTones(atDose(1.03), DOSES);
    expect(verdict).toBe("within");
    expect(dose.factor).toBeCloseTo(1.03, 2);
    expect(steps.map((step) => step.tolerance)).toEqual([2, 2, 2, 2]);
    // All off by less than the band, and all as another dose would do it.
    const leaning = judgeTones(atDose(1.06), DOSES);
    expect([leaning.verdict, leaning.dose.explains]).toEqual(["within", true]);
    expect(judgeTones(atDose(1), DOSES).dose.explains).toBe(false);
  });

  it.each([1.15, 0.85, 1.4])("tell a dose of %d times the nominal one", (factor) => {
    const { verdict, steps, dose } = judgeTones(atDose(factor), DOSES);
    expect(verdict).toBe("dose");
    expect(dose.factor).toBeCloseTo(factor, 2);
    expect(dose.isLimit).toBeUndefined();
    expect(dose.offAfter).toBeLessThan(0.1);
    for (const [k, { slope }] of TONES.entries()) {
      const off = slope * Math.log(factor);
      expect(steps[k].difference).toBeCloseTo(off, 1);
      expect(steps[k].verdict).toBe(Math.abs(off) <= 2 ? "within" : off < 0 ? "too-dark" : "too-light");
    }
  });

  it("say that a dose is at least so far off where the prediction ends", () => {
    const { dose } = judgeTones(atDose(2.2), DOSES);
    expect(dose).toMatchObject({ isLimit: true });
    expect(dose.factor).toBeGreaterThan(1.65);
  });

  it("are off in shape if some are too dark and others too light", () => {
    const { verdict, steps } = judgeTones(
      tones(({ lightness }, k) => repeated(lightness + (k % 2 === 0 ? 5 : -5))),
      DOSES,
    );
    expect(verdict).toBe("shape");
    expect(steps.map((step) => step.verdict)).toEqual(["too-light", "too-dark", "too-light", "too-dark"]);
  });

  it("leave out a patch that differs from its repeats, and say so", () => {
    const { verdict, steps } = judgeTones(
      tones(({ lightness }, k) => (k === 1 ? [...repeated(lightness), lightness - 30] : repeated(lightness))),
      DOSES,
    );
    expect([verdict, steps[1].spoilt, steps[1].patches]).toEqual(["within", 1, 6]);
    expect(steps[1].difference).toBeCloseTo(0, 1);
  });

  it("count patches that something lies on among those left out", () => {
    const seen = tones(({ lightness }) => repeated(lightness)).map((tone) => ({ ...tone, hidden: 2 }));
    const { steps } = judgeTones(seen, DOSES);
    expect(steps.map(({ patches, spoilt }) => [patches, spoilt])).toEqual(seen.map(() => [7, 2]));
  });

  it("may be farther off where the repeats differ much", () => {
    // Median absolute deviation 4 L*: 3 · 1.4826 · 4 / √4.
    const { steps, verdict } = judgeTones(
      tones(({ lightness }, k) =>
        k === 2 ? [-8, -1, 0, 7].map((off) => lightness + 4 + off) : repeated(lightness),
      ),
      DOSES,
    );
    expect(steps[2].tolerance).toBeCloseTo(8.9, 1);
    expect([steps[2].verdict, verdict]).toEqual(["within", "within"]);
  });
});
