import { describe, expect, it } from "vitest";
import { detailLimits } from "../../src/5-burn/detail.js";
import { checkNumber } from "../support/check-values.js";
import { ideal, round, square } from "./burning.js";

const spot = round(0.115);

describe("detail limits", () => {
  it("across the lines are the Gaussian spot's (Boreman, check values)", () => {
    const { acrossLpPerMm } = detailLimits(square(0.025), spot, ideal, 10);
    expect(acrossLpPerMm.at50).toBeCloseTo(checkNumber("mtf.gauss.limit.0.5"), 6);
    expect(acrossLpPerMm.at10).toBeCloseTo(checkNumber("mtf.gauss.limit.0.1"), 6);
  });

  it("along the lines count the pixel's length too, and end at 1/(2·pitch)", () => {
    const { alongLpPerMm } = detailLimits({ alongMm: 0.1, acrossMm: 0.025 }, spot, ideal, 10);
    expect(alongLpPerMm.at50).toBeCloseTo(checkNumber("mtf.system.limit.0.5"), 6);
    // 7.75 line pairs per mm would be left, but a 0.1 mm pitch carries 5.
    expect(checkNumber("mtf.system.limit.0.1")).toBeGreaterThan(5);
    expect(alongLpPerMm.at10).toBe(5);
  });

  it("end at the pitch of each direction", () => {
    const detail = detailLimits({ alongMm: 0.25, acrossMm: 0.2 }, spot, ideal, 10);
    expect(detail.alongLpPerMm).toEqual({ at50: 2, at10: 2 });
    expect(detail.acrossLpPerMm).toEqual({ at50: 2.5, at10: 2.5 });
  });

  it("count a firing lag along the lines only", () => {
    const lagging = { ...ideal, speedMmPerS: 500, firingLagUs: 100 };
    const { alongLpPerMm, acrossLpPerMm } = detailLimits(square(0.025), spot, lagging, 10);
    expect(acrossLpPerMm.at50).toBeCloseTo(checkNumber("mtf.gauss.limit.0.5"), 6);
    // Section 8 of the model, at the limit that came out: spot × hold × lag.
    for (const [f, left] of [
      [alongLpPerMm.at50, 0.5],
      [alongLpPerMm.at10, 0.1],
    ]) {
      const gauss = Math.exp(-((Math.PI * 0.0575 * f) ** 2) / 2);
      const hold = Math.sin(Math.PI * 0.025 * f) / (Math.PI * 0.025 * f);
      const lag = 1 / Math.sqrt(1 + (2 * Math.PI * f * 500 * 100e-6) ** 2);
      expect(gauss * hold * lag).toBeCloseTo(left, 9);
    }
  });

  it("state the photo's own: half its pixels per mm", () => {
    expect(detailLimits(square(0.05), spot, ideal, 7.5).photoLpPerMm).toBe(3.75);
  });
});

describe("a firing loss", () => {
  it("is stated as the length that it takes from a burst, and limits no frequency", () => {
    const of = (firingLossUs: number) =>
      detailLimits(square(0.05), spot, { ...ideal, speedMmPerS: 300, firingLossUs }, 10);
    expect(of(33).alongLimits.firingLossMm).toBeCloseTo(0.0099, 12);
    expect(of(-50).alongLimits.firingLossMm).toBeCloseTo(-0.015, 12);
    const { firingLossMm, ...others } = of(33).alongLimits;
    expect({ ...of(33), alongLimits: others }).toEqual(of(0));
  });
});

describe("limits along the line", () => {
  const of = (pitchMm: number, firingLagUs: number, speedMmPerS = 500) =>
    detailLimits({ alongMm: pitchMm, acrossMm: 0.05 }, spot, { ...ideal, speedMmPerS, firingLagUs }, 10)
      .alongLimits;

  it("are the spot's and the lag's at half contrast, and the pitch's own", () => {
    const limits = of(0.05, 100);
    expect(limits.spotLpPerMm).toBeCloseTo(checkNumber("mtf.gauss.limit.0.5"), 6);
    expect(limits.pitchLpPerMm).toBe(10);
    // 1/√(1 + (2πfvτ)²) is ½ at f = √3/(2πvτ); vτ is 0.05 mm.
    expect(limits.firingLpPerMm).toBeCloseTo(Math.sqrt(3) / (2 * Math.PI * 0.05), 9);
    expect(limits.limitedBy).toBe("firing");
  });

  it.each([
    ["spot", 0.05, 20],
    ["pitch", 0.1, 20],
    ["firing", 0.05, 100],
  ])("are the %s's where pixels are %d mm and the lag %d µs", (binds, pitchMm, lagUs) => {
    expect(of(pitchMm, lagUs).limitedBy).toBe(binds);
  });

  it.each([
    [0.05, 100],
    [0.1, 20],
  ])("name the speed up to which firing is not the limit: %d mm, %d µs", (pitchMm, lagUs) => {
    const speed = of(pitchMm, lagUs).firingFreeUpToMmPerS ?? Number.NaN;
    expect(of(pitchMm, lagUs, 0.999 * speed).limitedBy).not.toBe("firing");
    expect(of(pitchMm, lagUs, 1.001 * speed).limitedBy).toBe("firing");
  });

  it("say nothing of a source that answers at once", () => {
    expect(Object.keys(of(0.05, 0))).toEqual(["spotLpPerMm", "pitchLpPerMm", "limitedBy"]);
    expect(of(0.05, 0).limitedBy).toBe("spot");
  });
});

describe("what binds first", () => {
  // Spot 11.88 line pairs per mm at a tenth, 6.52 at half; pitches of 0.05 and 0.025 mm carry 10 and 20; a lag of 0.03 mm leaves
  // half at √3/(2π·0.03) = 9.19, one of 0.05 mm at 5.51, one of 0.4 mm at 0.69.
  it.each([
    ["photo", 0.025, 0, 10],
    ["pitch", 0.05, 0, 100],
    ["spot", 0.025, 0, 100],
    ["spot", 0.025, 60, 100],
    ["firing", 0.025, 100, 100],
    ["firing", 0.05, 100, 12],
    ["photo", 0.05, 100, 10],
    ["firing", 0.025, 800, 7],
    ["photo", 0.025, 800, 1],
  ] as const)(
    "is the %s with a pitch of %d mm, a lag of %d µs and %d pixels per mm",
    (binds, pitchMm, lagUs, px) => {
      const motion = { ...ideal, speedMmPerS: 500, firingLagUs: lagUs };
      expect(detailLimits(square(pitchMm), spot, motion, px).limitedBy).toBe(binds);
    },
  );

  it("is judged by the coarser direction", () => {
    const coarse = { alongMm: 0.025, acrossMm: 0.06 };
    expect(detailLimits(coarse, round(0.05), ideal, 100).limitedBy).toBe("pitch");
    expect(detailLimits(square(0.025), { alongMm: 0.05, acrossMm: 0.2 }, ideal, 100).limitedBy).toBe("spot");
  });

  it("is the photo only where it ends before the detail that arrives, and is what the line's own limits say of firing", () => {
    for (const pitchMm of [0.025, 0.04, 0.05, 0.1]) {
      for (const firingLagUs of [0, 20, 50, 100, 400]) {
        for (const px of [4, 8, 12, 16, 19, 30, 100]) {
          const motion = { ...ideal, speedMmPerS: 1000, firingLagUs };
          const { limitedBy, alongLimits, ...detail } = detailLimits(square(pitchMm), spot, motion, px);
          const carried = Math.min(detail.alongLpPerMm.at10, detail.acrossLpPerMm.at10);
          if (limitedBy === "photo") expect(px / 2).toBeLessThan(carried);
          if (limitedBy === "pitch") expect(carried).toBe(1 / (2 * pitchMm));
          if (limitedBy === "firing") expect(alongLimits.limitedBy).toBe("firing");
          else if (alongLimits.limitedBy === "firing") {
            expect(px / 2).toBeLessThanOrEqual(alongLimits.firingLpPerMm ?? Number.NaN);
          }
        }
      }
    }
  });
});
