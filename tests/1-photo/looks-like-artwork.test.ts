import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { looksLikeArtwork } from "../../src/1-photo/looks-like-artwork.js";
import { PHOTOGRAPHS, photographPath } from "../pipeline/photograph.js";

const sample = (name: string) => readFile(new URL(`../../sample-images/${name}`, import.meta.url));
const looks = async (bytes: Uint8Array): Promise<boolean> => looksLikeArtwork(await decodePhoto(bytes));

describe("a picture that looks like artwork", () => {
  it.each([
    ["as a drawing, transparent", async () => sample("logo.svg")],
    [
      "white on black",
      async () =>
        sharp(await sample("logo.svg"))
          .flatten({ background: "#fff" })
          .negate()
          .png()
          .toBuffer(),
    ],
    [
      "small, as JPEG",
      async () =>
        sharp(await sample("logo.svg"))
          .resize(600)
          .flatten({ background: "#fff" })
          .jpeg({ quality: 80 })
          .toBuffer(),
    ],
    [
      "in two colours",
      async () =>
        sharp(await sample("logo.svg"))
          .flatten({ background: "#d9b310" })
          .png()
          .toBuffer(),
    ],
  ])("is a logo: %s", async (_, picture) => {
    expect(await looks(await picture())).toBe(true);
  });

  it.each(PHOTOGRAPHS)("is not a museum photograph: %s", async (name) => {
    expect(await looks(await readFile(photographPath(name)))).toBe(false);
  });

  it.each(["harbour.jpg", "dog-on-quay.jpg", "lighthouse.jpg", "nets.jpg", "portrait.jpg", "step-wedge.png"])(
    "is not %s",
    async (name) => {
      expect(await looks(await sample(name))).toBe(false);
    },
  );

  it("is not a plain sheet, nor a photograph cut out on white", async () => {
    const sheet = sharp({ create: { width: 90, height: 60, channels: 3, background: "#fff" } });
    expect(await looks(await sheet.png().toBuffer())).toBe(false);
    const dog = await sharp(await sample("dog-on-quay.jpg"))
      .resize(300, 300)
      .toBuffer();
    const cutOut = sharp({ create: { width: 800, height: 800, channels: 3, background: "#fff" } });
    expect(
      await looks(
        await cutOut
          .composite([{ input: dog }])
          .png()
          .toBuffer(),
      ),
    ).toBe(false);
  });
});
