import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { isPlainArtwork } from "../../src/1-photo/plain-artwork.js";
import { PHOTOGRAPHS, photographPath } from "../pipeline/photograph.js";

const sample = (name: string) => readFile(new URL(`../../sample-images/${name}`, import.meta.url));
const logo = async (columns: number) => sharp(await sample("logo.svg")).resize(columns);
const onWhite = async (columns: number) => (await logo(columns)).flatten({ background: "#fff" });
const isPlain = async (bytes: Uint8Array): Promise<boolean> =>
  isPlainArtwork(await decodePhoto(bytes, { minColumns: 500 }));

/** Two dozen letters a sheet wide, of strokes as thick as `px` pixels. */
function lettering(px: number, ink = "#000", paper = "#fff"): Buffer {
  const letters = Array.from(
    { length: 24 },
    (_, k) => `<use href="#h" x="${(20 + 23 * k).toFixed(1)}" y="60"/>`,
  );
  return Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="600" height="120"><rect width="600" height="120" fill="${paper}"/>
    <defs><path id="h" d="M0 0V20L6 10L12 20V0" fill="none" stroke="${ink}" stroke-width="${px}"/></defs>${letters.join("")}</svg>`,
  );
}

/** A grey sheet of 256 × 256 pixels. */
const greySheet = (codeAt: (x: number, y: number) => number): Promise<Buffer> => {
  const codes = Buffer.from(Array.from({ length: 256 * 256 }, (_, i) => codeAt(i % 256, i >> 8)));
  return sharp(codes, { raw: { width: 256, height: 256, channels: 1 } })
    .png()
    .toBuffer();
};

describe("plain artwork", () => {
  it.each<[string, () => Promise<Uint8Array>]>([
    ["a transparent drawing", () => sample("logo.svg")],
    ["a transparent raster", async () => (await logo(600)).png().toBuffer()],
    ["a small raster", async () => (await onWhite(150)).png().toBuffer()],
    ["white on black", async () => (await onWhite(600)).negate().png().toBuffer()],
    ["a poor JPEG", async () => (await onWhite(600)).jpeg({ quality: 45 }).toBuffer()],
    ["a good JPEG", async () => (await onWhite(600)).jpeg({ quality: 85 }).toBuffer()],
    ["lettering", async () => lettering(3)],
    ["fine lettering", async () => lettering(1.3)],
  ])("is %s", async (_, picture) => {
    expect(await isPlain(await picture())).toBe(true);
  });

  it.each(PHOTOGRAPHS)("is not a museum photograph: %s", async (name) => {
    expect(await isPlain(await readFile(photographPath(name)))).toBe(false);
  });

  it.each(["harbour.jpg", "dog-on-quay.jpg", "lighthouse.jpg", "nets.jpg", "portrait.jpg", "step-wedge.png"])(
    "is not %s",
    async (name) => {
      expect(await isPlain(await sample(name))).toBe(false);
    },
  );

  it.each<[string, () => Promise<Uint8Array>]>([
    ["a blank sheet", () => greySheet(() => 255)],
    ["two greys", () => greySheet((x) => (x < 128 ? 64 : 192))],
    ["a ramp", () => greySheet((x) => x)],
    ["black running into white", () => greySheet((x) => Math.min(255, Math.max(0, 8 * (x - 112))))],
    ["three tones", () => greySheet((x) => (x < 85 ? 0 : x < 170 ? 128 : 255))],
    ["a checkerboard of pixels", () => greySheet((x, y) => 255 * ((x + y) & 1))],
    ["dots apart", () => greySheet((x, y) => (x % 4 || y % 4 ? 255 : 0))],
    ["pale ink", async () => lettering(3, "#d00")],
    ["a blurred logo", async () => (await onWhite(600)).blur(6).png().toBuffer()],
    ["a picture of five pixels", async () => (await onWhite(5)).png().toBuffer()],
    [
      "a dithered photograph",
      async () =>
        sharp(await sample("harbour.jpg"))
          .greyscale()
          .resize(600)
          .png({ palette: true, colours: 2, dither: 1 })
          .toBuffer(),
    ],
    [
      "a photograph of hard contrast",
      async () =>
        sharp(await sample("harbour.jpg"))
          .greyscale()
          .linear(6, -500)
          .png()
          .toBuffer(),
    ],
    [
      "a photograph cut out on white",
      async () =>
        sharp({ create: { width: 800, height: 800, channels: 3, background: "#fff" } })
          .composite([
            {
              input: await sharp(await sample("dog-on-quay.jpg"))
                .resize(300, 300)
                .toBuffer(),
            },
          ])
          .png()
          .toBuffer(),
    ],
  ])("is not %s", async (_, picture) => {
    expect(await isPlain(await picture())).toBe(false);
  });
});
