import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import sharp, { type Sharp } from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { normalDeviate, seededRandom } from "../../src/core/random.js";
import { resolveOptions } from "../../src/options/options.js";
import type { FindingCode } from "../../src/pipeline/triage/findings.js";
import { triagePhoto } from "../../src/pipeline/triage/triage.js";
import { photographPath } from "../pipeline/photograph.js";

const sample = (name: string): string =>
  fileURLToPath(new URL(`../../sample-images/${name}.jpg`, import.meta.url));

const WIDTH_PX = 800;
/** Pixels for each spot of 0.1 mm on a piece 20 mm wide, as 12 megapixels have on one of 80 mm. */
const PX_PER_SPOT = 4;
const QUICK = { compressionLevel: 1 } as const;

const png = (image: Sharp): Promise<Buffer> => image.png(QUICK).toBuffer();
const photograph = async (path: string): Promise<Buffer> =>
  png(
    sharp(await readFile(path))
      .resize(WIDTH_PX)
      .greyscale(),
  );

/** Blur by a Gaussian of so many spots at half maximum. */
const blurred = async (file: Buffer, spots: number): Promise<Buffer> =>
  png(sharp(file).blur((spots * PX_PER_SPOT) / 2.3548));

async function withNoise(file: Buffer, codes: number): Promise<Buffer> {
  const { data, info } = await sharp(file).greyscale().raw().toBuffer({ resolveWithObject: true });
  const random = seededRandom(4);
  const noisy = data.map((code) => Math.max(0, Math.min(255, code + codes * normalDeviate(random))));
  return png(sharp(noisy, { raw: { width: info.width, height: info.height, channels: 1 } }));
}

function fromCodes(codeAt: (x: number, y: number) => number): Promise<Buffer> {
  const height = 600;
  const codes = Uint8Array.from({ length: WIDTH_PX * height }, (_, i) =>
    codeAt(i % WIDTH_PX, Math.floor(i / WIDTH_PX)),
  );
  return png(sharp(codes, { raw: { width: WIDTH_PX, height, channels: 1 } }));
}

/** A date of a quarter of the width near a corner: strokes two spots wide. */
async function stamped(file: Buffer): Promise<Buffer> {
  const { height = 0 } = await sharp(file).metadata();
  const strokes = Array.from({ length: 12 }, (_, i) => `<rect x="${i * 22}" width="10" height="34"/>`);
  const stamp = `<svg xmlns="http://www.w3.org/2000/svg" width="260" height="34" fill="#fff">${strokes.join("")}</svg>`;
  return png(sharp(file).composite([{ input: Buffer.from(stamp), left: 520, top: height - 70 }]));
}

async function triageOf(file: Uint8Array, widthMm = 20) {
  const options = resolveOptions({ kind: "photo", widthMm, spotMm: 0.1, linesPerInch: 254 });
  return triagePhoto(await decodePhoto(file), options);
}

async function gradeOf(file: Uint8Array, code: FindingCode, widthMm?: number): Promise<string> {
  const { findings } = await triageOf(file, widthMm);
  return findings.find((finding) => finding.code === code)?.grade ?? "ready";
}

describe("blur on the piece", () => {
  it("is asked about however many pixels it covers: a portrait without a face", async () => {
    const portrait = await photograph(sample("portrait"));
    expect(await gradeOf(portrait, "BLURRED")).toBe("ready");
    expect(await gradeOf(await blurred(portrait, 12), "BLURRED")).toBe("ask");
    expect(await gradeOf(await blurred(portrait, 30), "BLURRED")).toBe("ask");
  });

  it("is no finding where it is finer than the spot, in any number of pixels", async () => {
    expect(await gradeOf(await blurred(await photograph(sample("portrait")), 1.5), "BLURRED")).toBe("ready");
  });

  // Measured at 6 spots: 6.0 to 9.4 on eleven photographs, which differ in what their edges lie beside.
  it.each([
    photographPath("nagasaki-boats"),
    photographPath("black-canyon"),
    sample("harbour"),
    sample("portrait"),
  ])("of six spots is asked about and told as such, and of two it is no finding: %s", async (path) => {
    const photo = await photograph(path);
    expect(await gradeOf(await blurred(photo, 2), "BLURRED")).toBe("ready");
    const { figures, findings } = await triageOf(await blurred(photo, 6));
    expect(findings.find(({ code }) => code === "BLURRED")?.grade).toBe("ask");
    expect(figures.blurSpots).toBeGreaterThan(5.5);
    expect(figures.blurSpots).toBeLessThan(10);
  });

  it("is not hidden by grain", async () => {
    const boats = await blurred(await photograph(photographPath("nagasaki-boats")), 7);
    expect(await gradeOf(await withNoise(boats, 6), "BLURRED")).toBe("ask");
  });

  it("is not hidden by a sharp date stamp", async () => {
    const boats = await blurred(await photograph(photographPath("nagasaki-boats")), 8);
    expect(await gradeOf(await stamped(boats), "BLURRED")).toBe("ask");
  });

  it("is asked about where the camera moved along one direction only", async () => {
    const boats = await photograph(photographPath("nagasaki-boats"));
    const side = 12 * PX_PER_SPOT + 1;
    // Ones in the middle row of three.
    const kernel = Array.from({ length: 3 * side }, (_, i) => (Math.floor(i / side) === 1 ? 1 : 0));
    const moved = await png(sharp(boats).convolve({ width: side, height: 3, kernel }));
    expect(await gradeOf(moved, "BLURRED")).toBe("ask");
    expect(await gradeOf(await png(sharp(moved).rotate(90)), "BLURRED", 16)).toBe("ask");
  });

  it("is no finding behind a sharp subject", async () => {
    const boats = await photograph(photographPath("nagasaki-boats"));
    const { data, info } = await sharp(boats)
      .extract({ left: 256, top: 176, width: 288, height: 288 })
      .png(QUICK)
      .toBuffer({ resolveWithObject: true });
    const background = sharp(await blurred(boats, 10));
    const file = await png(background.composite([{ input: data, left: 256, top: 176 }]));
    // The subject is an eighth of the picture, and a fifth of its middle.
    expect((info.width * info.height) / (WIDTH_PX * 640)).toBeLessThan(0.17);
    expect(await gradeOf(file, "BLURRED")).not.toBe("ask");
  });
});

describe("noise on the piece", () => {
  it.each([20, 80])("is asked about where there is nothing else, on %d mm", async (widthMm) => {
    expect(await gradeOf(await withNoise(await fromCodes(() => 128), 60), "GRAINY", widthMm)).toBe("ask");
  });

  it("is no finding where it averages away within a spot, and is one where it does not", async () => {
    const noisy = await withNoise(await photograph(photographPath("nagasaki-boats")), 12);
    expect(await gradeOf(noisy, "GRAINY", 20)).toBe("ready");
    expect(await gradeOf(noisy, "GRAINY", 76)).toBe("note");
  });
});

describe("blocks of compression on the piece", () => {
  const jpeg = (file: Buffer, quality: number): Promise<Buffer> => sharp(file).jpeg({ quality }).toBuffer();

  it("are no finding where they are finer than the eye sees: quality 85 in many pixels", async () => {
    const waves = fromCodes((x, y) => 128 + 70 * Math.sin(x / 150) * Math.cos(y / 120));
    expect(await gradeOf(await jpeg(await withNoise(await waves, 2), 85), "BLOCKS", 20)).toBe("ready");
  });

  it("are found after the picture was enlarged by half", async () => {
    const small = await png(sharp(await photograph(sample("lighthouse"))).resize(528));
    const enlarged = sharp(await jpeg(small, 25)).resize(792, null, { kernel: "cubic" });
    expect(await gradeOf(await png(enlarged), "BLOCKS", 64)).toBe("note");
  });

  it("are no finding in a PNG whose shades rise by one code every eight pixels", async () => {
    const random = seededRandom(4);
    const sky = fromCodes((x, y) => {
      const grain = random() < 0.05 ? 1 : 0;
      return 20 + Math.floor(x / 8) + Math.floor(y / 8) + grain;
    });
    expect(await gradeOf(await sky, "BLOCKS", 64)).toBe("ready");
  });
});
