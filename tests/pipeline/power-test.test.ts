import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { commandReader } from "../../src/cli/command-reader.js";
import { type PowerTestOptions, powerTest, resolveMaterial } from "../../src/index.js";
import { resolveOptions } from "../../src/options/options.js";
import { steepPoints } from "../support/materials.js";

const options: PowerTestOptions = { linesPerInch: 254, spotMm: 0.1, material: "maple" };

describe("the patch of a power test", () => {
  it.each(["png", "tiff", "bmp"] as const)("burns every pixel, and says its size: %s", async (format) => {
    const { burnFile, test } = await powerTest({ ...options, format });
    expect(test.job).toMatchObject({ columns: 120, rows: 120 });
    if (format === "bmp") {
      // BMP: width, height, and pixels per metre along and across, at bytes 18, 22, 38 and 42.
      const file = Buffer.from(burnFile);
      expect([18, 22, 38, 42].map((byte) => file.readInt32LE(byte))).toEqual([120, 120, 10000, 10000]);
      return;
    }
    const picture = sharp(burnFile);
    const { width, height, density } = await picture.metadata();
    expect([width, height, density]).toEqual([120, 120, 254]);
    const pixels = await picture.toColourspace("b-w").raw().toBuffer();
    expect(pixels.every((each) => each === 0)).toBe(true);
  });

  it("keeps both densities, and is rounded to whole pixels", async () => {
    const { burnFile, test } = await powerTest({ ...options, linesPerInchAlong: 508, patchMm: 10.04 });
    expect(test.job).toMatchObject({ columns: 201, rows: 100 });
    expect(test.job.widthMm).toBeCloseTo(10.05, 9);
    expect(test.job.heightMm).toBeCloseTo(10, 9);
    // PNG 11.3.5.3: pHYs holds pixels per metre along and across.
    const at = Buffer.from(burnFile).indexOf("pHYs") + 4;
    expect([0, 4].map((byte) => Buffer.from(burnFile).readUInt32BE(at + byte))).toEqual([20000, 10000]);
  });

  it("takes density and spot as a piece does: widened beside the focus", async () => {
    const { test } = await powerTest({ spotMm: 0.1, material: "maple", wavelengthMm: 0.0106, defocusMm: 2 });
    // d(z) = d0·√(1 + (z/z_R)²), z_R = π d0²/(4 λ) (ISO 11146-1).
    const spotMm = 0.1 * Math.hypot(1, (2 * 4 * 0.0106) / (Math.PI * 0.1 ** 2));
    expect(test.job.spotAcrossMm).toBeCloseTo(spotMm, 12);
    expect(test.job.pitchAcrossMm).toBeCloseTo(
      resolveOptions({ spotMm, material: "maple" }).pitch.acrossMm,
      9,
    );
  });

  it("takes as long as its lines at the speed: 120·(12/v + 2v/a)", async () => {
    const { test } = await powerTest({ ...options, speedMmPerS: 400, accelerationMmPerS2: 8000 });
    expect(test.secondsPerPatch).toBeCloseTo(120 * (12 / 400 + 800 / 8000), 9);
  });

  it.each<[PowerTestOptions, string]>([
    [{ patchMm: 2 }, "OPTION_INVALID"],
    [{ defocusMm: 2 }, "OPTION_CONFLICT"],
    [{ material: "vinyl" }, "OPTION_MATERIAL_FORBIDDEN"],
    [{ widthMm: 80 } as PowerTestOptions, "OPTION_UNKNOWN"],
  ])("is refused with %j", async (wrong, code) => {
    await expect(powerTest(wrong)).rejects.toMatchObject({ code });
  });
});

describe("its words", () => {
  it("look for the first patch that grows no darker, or no lighter", async () => {
    const [wood, slate] = await Promise.all(
      ["maple", "slate"].map(async (material) => (await powerTest({ material })).test),
    );
    expect(wood.steps.join(" ")).toMatch(/first patch that is as dark as the next one.*still darker/);
    expect(slate.steps.join(" ")).toMatch(/first patch that is as light as the next one.*still lighter/);
    expect(slate.steps.join(" ")).not.toMatch(/dark/);
    // Steps of 1.4 may pass from too little to damage.
    expect(wood.steps.at(-1)).toMatch(/For a finer setting, .* between the last two .* 1\.1 times the power/);
  });

  it("name the setting with the density, and the speed only if it was given", async () => {
    const of = async (more: PowerTestOptions) =>
      (await powerTest({ ...options, ...more }, commandReader)).test;
    expect((await of({ speedMmPerS: 250 })).giveAs).toBe("--power 40%@254@250mm/s");
    const own = await of({});
    expect(own.giveAs).toBe("--power 40%@254");
    expect(own.steps[0]).toMatch(/your usual speed/);
    expect((await powerTest(options)).test.giveAs).toBe("powerPercent: { percent: 40, linesPerInch: 254 }");
  });

  it("warn of gaps and of char where there is reason to", async () => {
    const notes = async (more: PowerTestOptions) =>
      (await powerTest({ ...options, ...more })).test.notes.join(" ");
    expect(await notes({ linesPerInch: 200 })).toMatch(/gaps of 0\.027 mm/);
    expect(await notes({})).not.toMatch(/gaps/);
    expect(await notes({})).toMatch(/maple chars from about 1\.2 times/);
    const coat = { name: "coat", bareColor: "#ffffff", markedColor: "#000000", source: "measured" };
    const material = { ...coat, response: steepPoints.map((point) => [...point]) };
    expect(resolveMaterial(material).charDose).toBeUndefined();
    expect(await notes({ material })).not.toMatch(/chars/);
  });

  it("hold the hazards of the material and every general caution", async () => {
    const { test } = await powerTest(options);
    expect(test.cautions[0]).toMatch(/Wood smoke/);
    expect(test.cautions.join(" ")).toMatch(/Never leave a running job unattended.*extraction/);
  });
});
