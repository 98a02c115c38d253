import { describe, expect, it } from "vitest";
import { checkPlanOptions, type PlanOptions, planLenses } from "../../src/options/plan-options.js";
import { refusalOf } from "../support/refusal.js";

const lenses = (options: PlanOptions) => planLenses(checkPlanOptions(options));
const optics = { wavelengthMm: 0.0106, beamDiameterMm: 7, propagationRatio: 1.2 };

describe("options of a plan", () => {
  it.each<[string, unknown]>([
    ["kind", "mow"],
    ["spotMm", 0],
    ["spotMm", []],
    ["wavelengthMm", 10.6],
    ["focalLengthMm", -50],
    ["propagationRatio", 0.9],
    ["lensShape", "round"],
    ["densities", []],
    ["densities", [254, 0]],
    ["minutes", 0],
    ["tones", 12],
    ["tones", { count: 12, detailMm: 0.3 }],
    ["tones", { count: 1, detailMm: 0.25 }],
    ["gain", 0],
    ["markMm", 0],
    ["margin", -0.1],
    ["against", 5],
    ["darkness", 0],
    ["darkness", 1.2],
    ["doseSpread", 0.31],
    ["speedMmPerS", 0],
  ])("refuses %s = %j and says what it takes", (option, value) => {
    const refusal = refusalOf(() => checkPlanOptions({ [option]: value } as PlanOptions));
    expect(refusal).toMatchObject({ code: "OPTION_INVALID", option });
    expect(refusal.message).toMatch(new RegExp(`^${option} takes .+; got `));
    expect(refusal.allowed).not.toMatch(/invalid|expected/i);
  });

  it.each<PlanOptions>([
    { kind: "strip", darkness: 0.5 },
    { kind: "strip", tones: { count: 12, detailMm: 0.25 } },
    { kind: "shade", margin: 0.1 },
    { kind: "shade", gain: 0.5 },
    { markMm: 0.1 },
  ])("refuses what another kind of work takes: %j", (options) => {
    const refusal = refusalOf(() => checkPlanOptions(options));
    expect(refusal).toMatchObject({ code: "OPTION_CONFLICT", option: Object.keys(options).at(-1) });
  });

  it("knows nothing of what only prepare takes", () => {
    for (const option of ["linesPerInch", "bitmapOnly", "format"]) {
      expect(refusalOf(() => checkPlanOptions({ [option]: 1 } as PlanOptions)).code).toBe("OPTION_UNKNOWN");
    }
  });
});

describe("spots to compare", () => {
  it("are those measured, or 0.1 mm", () => {
    expect(lenses({}).map(({ spot }) => spot)).toEqual([{ alongMm: 0.1, acrossMm: 0.1 }]);
    const spotMm = [0.115, { alongMm: 0.08, acrossMm: 0.15 }];
    expect(lenses({ spotMm }).map(({ name }) => name)).toEqual(["spot 0.115 mm", "spot 0.08 × 0.15 mm"]);
  });

  it("or one for each focal length", () => {
    const [short, long] = lenses({ ...optics, focalLengthMm: [50.8, 101.6] });
    expect(long.spot.acrossMm / short.spot.acrossMm).toBeCloseTo(2, 10);
    expect(short.optics?.focusMm).toBe(short.spot.acrossMm);
  });

  it("a wavelength and a beam quality alone leave a measured spot as it is", () => {
    const [own, assumed] = [{ spotMm: 0.1 }, {}].map((spot) =>
      lenses({ wavelengthMm: 0.0106, propagationRatio: 1.2, ...spot }),
    );
    expect(own).toEqual(lenses({ spotMm: 0.1 }));
    expect(assumed).toEqual(own);
  });

  it("but not both, nor half of the optics", () => {
    const both = refusalOf(() => lenses({ ...optics, focalLengthMm: 50.8, spotMm: 0.1 }));
    expect(both.code).toBe("OPTION_CONFLICT");
    const half = refusalOf(() => lenses(optics));
    expect(half).toMatchObject({ code: "OPTION_CONFLICT", option: "focalLengthMm" });
  });
});
