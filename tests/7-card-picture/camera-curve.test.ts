import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { cameraCurve, correctedLight } from "../../src/7-card-picture/camera-curve.js";
import { linearFromSrgb } from "../../src/core/physics/transfer.js";
import { cameraFacts } from "../../src/pipeline/calibration/camera-facts.js";

/** Codes of light by a camera that does not write sRGB: a power, and an S on top of one. */
const cameras: Readonly<Record<string, (light: number) => number>> = {
  "a power": (light) => light ** (1 / 1.7),
  "an S": (light) => light ** (1 / 2.2) + 0.05 * Math.sin(2 * Math.PI * (light ** (1 / 2.2) - 0.5)),
};

const places = Array.from({ length: 120 }, (_, k) => ({
  x: (k % 12) / 5.5 - 1,
  y: Math.floor(k / 12) / 4.5 - 1,
}));
/** Luminance factors from 0.06 to 0.7 in no order. */
const factors = places.map((_, k) => 0.06 * (0.7 / 0.06) ** (((37 * k) % 120) / 119));

/** What is read of patches at an exposure if sRGB is assumed, in light that is not even. */
const exposed = (camera: (light: number) => number, exposure: number, tilt: number) => ({
  lnExposure: Math.log(exposure / 60),
  light: places.map(({ x, y }, k) =>
    linearFromSrgb(camera(factors[k] * exposure * Math.exp(0.1 * x - tilt * y + 0.03 * x * y))),
  ),
});

describe.each(Object.entries(cameras))("the curve of a camera that writes %s", (_, camera) => {
  const pictures = [exposed(camera, 0.9, 0.1), exposed(camera, 0.45, 0), exposed(camera, 0.2, -0.1)];

  it("follows from two or three known exposures", () => {
    for (const taken of [pictures.slice(0, 2), pictures]) {
      const curve = cameraCurve(taken, places);
      if (!curve) throw new Error("no curve");
      for (const [dark, light] of [
        [0.1, 0.6],
        [0.2, 0.5],
        [0.3, 0.4],
      ]) {
        const [a, b] = [dark, light].map((each) => correctedLight(curve, linearFromSrgb(camera(each))));
        expect(Math.abs(Math.log(b / a / (light / dark)))).toBeLessThan(0.02);
      }
    }
  });

  it("is not told by one exposure, by equal ones, or by unknown ones", () => {
    expect(cameraCurve(pictures.slice(0, 1), places)).toBeUndefined();
    expect(cameraCurve([pictures[0], exposed(camera, 0.88, 0)], places)).toBeUndefined();
    const untold = pictures.map((each) => ({ ...each, lnExposure: undefined }));
    expect(cameraCurve(untold, places)).toBeUndefined();
  });

  it("is not told by exposures that the files give wrongly, if no curve rises so", () => {
    const wrong = pictures.map((each, k) => ({ ...each, lnExposure: 3 * k }));
    expect(cameraCurve(wrong, places)).toBeUndefined();
  });
});

it("stays as it is for a camera that writes sRGB", () => {
  const srgb = (light: number): number => 1.055 * light ** (1 / 2.4) - 0.055;
  const curve = cameraCurve([exposed(srgb, 0.9, 0.1), exposed(srgb, 0.3, 0)], places);
  if (!curve) throw new Error("no curve");
  for (const light of [0.05, 0.2, 0.5]) expect(correctedLight(curve, light)).toBeCloseTo(light, 3);
});

describe("what a camera writes beside a picture", () => {
  const grey = () => sharp({ create: { width: 8, height: 8, channels: 3, background: "#777" } });
  it("is the exposure: time × sensitivity over the square of the f-number", async () => {
    const exif = { IFD2: { ExposureTime: "1/50", FNumber: "9/5", ISOSpeedRatings: "200" } };
    const { lnExposure } = await cameraFacts(await grey().withExif(exif).jpeg().toBuffer());
    expect(lnExposure).toBeCloseTo(Math.log((0.02 * 200) / 1.8 ** 2), 6);
    expect((await cameraFacts(await grey().jpeg().toBuffer())).lnExposure).toBeUndefined();
  });

  it("is that it was made for print", async () => {
    const inks = await grey().toColourspace("cmyk").jpeg().toBuffer();
    expect((await cameraFacts(inks)).isForPrint).toBe(true);
    expect((await cameraFacts(await grey().png().toBuffer())).isForPrint).toBe(false);
  });
});
