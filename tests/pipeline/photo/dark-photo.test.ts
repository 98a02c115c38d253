import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../../src/1-photo/decode.js";
import { resolveOptions } from "../../../src/options/options.js";
import { settleKind } from "../../../src/pipeline/photo/settle-kind.js";
import { reportOf } from "../../support/prepare.js";
import { photographPath } from "../photograph.js";
import { encoded, linear, tonesOf } from "./tones-of.js";

const sample = new URL("../../../sample-images/portrait.jpg", import.meta.url).pathname;
const PHOTOS: readonly [string, string][] = [
  ["a portrait", sample],
  ["a landscape", photographPath("black-canyon")],
  ["a plant on pale ground", photographPath("allium-oreophilum")],
];
/** Brightest tones of 255. */
const DARK = [24, 33, 38, 52] as const;
type Change = (value: number) => number;

/** A photo with every sample changed, in 8 bits. */
async function changed(path: string, change: Change, type: "jpeg" | "png"): Promise<Buffer> {
  const { data, info } = await sharp(path)
    .greyscale()
    .resize(500, 500, { fit: "inside" })
    .raw()
    .toBuffer({ resolveWithObject: true });
  const { width, height } = info;
  const samples = Buffer.from(data.map((value) => Math.round(change(value))));
  const file = sharp(samples, { raw: { width, height, channels: 1 } });
  return type === "jpeg" ? file.jpeg({ quality: 85 }).toBuffer() : file.png().toBuffer();
}

const scaled =
  (top: number): Change =>
  (value) =>
    (value * top) / 255;
/** Less light, as with a shorter exposure. */
const underexposed =
  (top: number): Change =>
  (value) =>
    255 * encoded(linear(value / 255) * linear(top / 255));
const veiled =
  (low: number): Change =>
  (value) =>
    low + (value * (255 - low)) / 255;

const wanted = async (file: Uint8Array) =>
  (await tonesOf(await decodePhoto(file), { widthMm: 40, linesPerInch: 127, lift: 0 })).tones;

const meanDifference = (a: Float32Array, b: Float32Array): number =>
  a.reduce((sum, value, i) => sum + Math.abs(value - b[i]), 0) / a.length;

describe.each(PHOTOS)("%s in the dark", (_, path) => {
  it.each(["jpeg", "png"] as const)("is a photo, and nothing like a logo: %s", async (type) => {
    for (const change of [...DARK.map(scaled), ...[203, 215, 231].map(veiled)]) {
      const photo = await decodePhoto(await changed(path, change, type));
      const { resolved, looksLikeArtwork } = settleKind(resolveOptions({}), photo);
      expect([resolved.kind, looksLikeArtwork]).toEqual(["photo", false]);
    }
  });

  it("has its own tones again, within 6 L* on average, if it was underexposed", async () => {
    const whole = await wanted(await changed(path, (value) => value, "png"));
    for (const top of DARK) {
      for (const type of ["jpeg", "png"] as const) {
        const dark = await wanted(await changed(path, underexposed(top), type));
        expect(meanDifference(dark, whole), `${top}, ${type}`).toBeLessThan(6);
      }
    }
  });

  it("is stretched alike at 24 and 52, within 10 L* on average, if its samples were scaled", async () => {
    const [at52, ...darker] = await Promise.all(
      [52, 38, 33, 24].map(async (top) => wanted(await changed(path, scaled(top), "jpeg"))),
    );
    for (const tones of darker) expect(meanDifference(tones, at52)).toBeLessThan(10);
  });
});

describe("a dark or a pale photo", () => {
  const options = { widthMm: 20, linesPerInch: 254, method: "floyd-steinberg" } as const;
  const warned = async (change: Change) => {
    const report = await reportOf(await changed(sample, change, "png"), options);
    return { report, found: report.warnings.find(({ code }) => code === "few-tones") };
  };

  it("is prepared with a warning that says what happens, why, and what to do", async () => {
    const { report, found } = await warned(scaled(33));
    expect(report.tone?.lightest255).toBeGreaterThan(25);
    expect(report.tone?.lightest255).toBeLessThanOrEqual(33);
    expect(found?.message).toMatch(/^The photo is very dark: its tones go up to \d\d of 255 only\./);
    expect(found?.message).toContain("noise");
    expect(found?.message).toContain("with more light");
    expect(report.coverage.burnFraction).toBeLessThan(0.8);
    expect((await warned(scaled(52))).found?.message).toMatch(/very dark/);
    expect((await warned(veiled(215))).found?.message).toMatch(/very pale: its tones go down to 215 of 255/);
    expect((await warned((value) => 110 + value / 8)).found?.message).toMatch(/very little contrast/);
  });

  it("is not warned of with the usual range of tones", async () => {
    expect((await warned((value) => value)).found).toBeUndefined();
  });
});
