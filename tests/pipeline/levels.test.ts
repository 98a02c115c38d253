import { readFile } from "node:fs/promises";
import { PNG } from "pngjs";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { linearFromSrgb } from "../../src/core/physics/transfer.js";
import type { PrepareOptions } from "../../src/index.js";
import { prepare, reportOf } from "../support/prepare.js";
import { refusalOf } from "../support/refusal.js";
import { photographPath } from "./photograph.js";

/** Tone falls straight with the dose, beyond the highest that a solid fill's ripple comes to. */
const linear = {
  name: "straight",
  response: [
    [0, 0.8],
    [4, 0.2],
  ],
  bareColor: "#e0e0e0",
  markedColor: "#303030",
  source: "measured for this test",
};

/** Flat patches of SIDE pixels, side by side; only those pixels are looked at that no edge reaches. */
const SIDE = 48;
const GREYS = [0, 30, 60, 90, 120, 150, 180, 210, 240, 255];

async function patches(): Promise<Uint8Array> {
  const columns = SIDE * GREYS.length;
  const data = Buffer.from(
    Uint8Array.from({ length: columns * SIDE }, (_, i) => GREYS[Math.floor((i % columns) / SIDE)]),
  );
  return sharp(data, { raw: { width: columns, height: SIDE, channels: 1 } })
    .png()
    .toBuffer();
}

describe("256 levels on a linear response", () => {
  it.each([127, 254, 508])(
    "are the inverse curve alone: each patch at the level nearest to its dose, %i lines per inch",
    async (linesPerInch) => {
      const pitchMm = 25.4 / linesPerInch;
      const piece = await prepare(await patches(), {
        widthMm: GREYS.length * SIDE * pitchMm,
        linesPerInch,
        spotMm: 0.115,
        material: linear,
        levels: 256,
        kind: "photo",
        toneMap: "luminance",
        autoTone: false,
      });
      expect(piece.report.job.method).toBe("threshold");
      expect(piece.report.methodRanking).toBeUndefined();
      const { width, data } = PNG.sync.read(Buffer.from(piece.burnFile));
      GREYS.forEach((grey, k) => {
        // Wanted: 0.65 + 0.15·Y. Dose d leaves 0.8 − 0.15·d. So d = 1 − Y, and the file's grey is 255·Y.
        const luminance = linearFromSrgb(grey / 255);
        const seen = data[4 * ((SIDE / 2) * width + k * SIDE + SIDE / 2)];
        expect(Math.abs(seen - 255 * luminance)).toBeLessThan(0.52);
      });
    },
  );
});

describe("a photograph", () => {
  let photo: Uint8Array;
  const options: PrepareOptions = { widthMm: 20, linesPerInch: 254, spotMm: 0.115, kind: "photo" };
  beforeAll(async () => {
    photo = await readFile(photographPath("nagasaki-boats"));
  });

  it("burns levels of the file's greys, and says what they are worth", async () => {
    const { report, bitmap, burnFile } = await prepare(photo, { ...options, levels: 4, method: "stucki" });
    const { data } = bitmap.pixels;
    expect([...new Set(data)].sort()).toEqual([0, 1, 2, 3]);
    const greys = await sharp(burnFile).toColourspace("b-w").raw().toBuffer();
    expect(greys.equals(Buffer.from(data.map((level) => 255 - 85 * level)))).toBe(true);
    const on = data.filter((level) => level > 0).length;
    const power = data.reduce((sum, level) => sum + level / 3, 0);
    expect(report.job.levels).toBe(4);
    expect(report.coverage.burnFraction).toBeCloseTo(power / data.length, 12);
    expect(report.powerLevels?.beamOnFraction).toBeCloseTo(on / data.length, 12);
    expect(report.runTime.beamOnSeconds).toBeCloseTo((on * 0.1) / 300, 9);
    // 1 + 3 · area / pixel area, of the spot and of a detail of 1 mm: Ulichney 1987 for three times as many on-off pixels.
    expect(report.coverage.levelsPerSpot).toBeCloseTo(1 + (3 * Math.PI * 0.115 ** 2) / 4 / 0.01, 9);
    expect(report.tonalResolution?.[3].addressable).toBe(301);
    const onOff = await prepare(photo, { ...options, method: "stucki" });
    expect(report.powerLevels?.onOff).toEqual(
      onOff.report.tonalResolution?.map(({ detailMm, nominal, held }) => ({ detailMm, nominal, held })),
    );
    expect(onOff.report.powerLevels).toBeUndefined();
  });

  it("comes nearer to what was wanted, the more levels", async () => {
    const errors: number[] = [];
    for (const levels of [2, 4, 16, 256]) {
      const method = levels === 256 ? "auto" : "floyd-steinberg";
      const report = await reportOf(photo, { ...options, levels, method });
      errors.push(report.prediction?.visualErrorRms ?? Number.NaN);
    }
    errors.slice(1).forEach((error, k) => {
      expect(error).toBeLessThan(errors[k]);
    });
  });

  it("burns a border at full power", async () => {
    const { bitmap } = await prepare(photo, { ...options, levels: 5, borderMm: 1, method: "fan" });
    const { pixels } = bitmap;
    for (let x = 3; x < 190; x++) expect(pixels.get(4, x)).toBe(4);
    const inside = new Set(pixels.data);
    expect(inside.size).toBe(5);
  });

  it("auto tries only what takes levels", async () => {
    const report = await reportOf(photo, { ...options, levels: 3 });
    for (const { method } of report.methodRanking ?? []) {
      expect(["floyd-steinberg", "ostromoukhov", "clustered-dot", "blue-noise"]).toContain(method);
    }
    expect(report.methodRanking?.length).toBeGreaterThan(1);
  });

  it("keeps a tone curve for each number of levels", async () => {
    const curves = new Map();
    const context = { curves: { get: (key: string) => curves.get(key), set: curves.set.bind(curves) } };
    for (const levels of [2, 3, 4]) {
      await prepare(photo, { ...options, levels, method: "sierra-lite", bitmapOnly: true }, context);
    }
    expect(curves.size).toBe(3);
  });
});

describe("fills of neighbouring power levels", () => {
  /** Tone falls straight to dose 0.4, then bends off to 0.2 and stays there: doses beyond 0.5 do nothing. */
  const coating = {
    ...{ ...linear, name: "a coating" },
    response: [...[0, 1, 2, 3, 4].map((k) => [k / 10, 0.8 - 0.12 * k]), [0.5, 0.2], [0.7, 0.2], [4, 0.2]],
  };
  // CIE 15 above the knee.
  const lightness = (luminance: number) => 116 * Math.cbrt(luminance) - 16;
  const straight = (dose: number) => lightness(0.8 - 0.15 * dose);
  const bent = (dose: number) => lightness(0.8 - 1.2 * dose);

  it.each([
    // Straight: the swing grows with the dose, so the largest is that of full power; the largest step is the last.
    ["straight", 0.1, linear, straight(0.9) - straight(1.1), straight(2 / 3) - straight(1), 1],
    ["straight", 0.25, linear, straight(0.75) - straight(1.25), straight(2 / 3) - straight(1), 1],
    // Of the levels 0, 1/3, 2/3 and 1 only 1/3 is in the range in which the tone changes.
    ["a coating", 0.1, coating, bent(0.9 / 3) - bent(1.1 / 3), bent(0) - bent(1 / 3), 0.2],
  ])(
    "step and swing as the response says: %s, dose ± %s",
    async (_, deviation, material, swing, step, solid) => {
      // Three and a half lines to a spot leave a ripple of a millionth (first harmonic, Poisson summation).
      const report = await reportOf(await patches(), {
        ...{ widthMm: 5, linesPerInch: 508, spotMm: 0.175, levels: 4, method: "floyd-steinberg" },
        ...{ material, kind: "photo" },
        // The swing is that of the larger part within the piece. The common part has none in it.
        spread:
          deviation > 0.2
            ? { common: 0, local: 0.1, line: deviation }
            : { common: 0, local: deviation, line: 0.01 },
      });
      const full = solid === 1 ? straight(1) : lightness(solid);
      expect(report.powerLevels?.largestSwingLightness).toBeCloseTo(swing, 3);
      expect(report.powerLevels?.largestStepLightness).toBeCloseTo(step, 3);
      expect(report.powerLevels?.largestStepShare).toBeCloseTo(step / (lightness(0.8) - full), 4);
    },
  );
});

describe("what cannot be", () => {
  const refused = (bad: PrepareOptions) =>
    prepare(new Uint8Array(0), bad).then(
      () => undefined,
      (error: unknown) =>
        refusalOf(() => {
          throw error;
        }),
    );

  it.each([1, 2.5, 257, -4])("levels %d", async (levels) => {
    const refusal = await refused({ levels });
    expect(refusal?.code).toBe("OPTION_INVALID");
    expect(refusal?.message).toContain("a whole number from 2 (on and off) to 256");
  });

  it("a method whose dots are on or off: the refusal names those that can", async () => {
    const refusal = await refused({ levels: 4, method: "green-noise" });
    expect(refusal?.code).toBe("OPTION_METHOD_LEVELS");
    expect(refusal?.message).toMatch(/auto, floyd-steinberg, .*blue-noise/);
    expect(refusal?.message).not.toContain("dot-diffusion");
  });

  it("levels of solid artwork", async () => {
    expect((await refused({ levels: 4, kind: "solid" }))?.code).toBe("OPTION_CONFLICT");
  });
});
