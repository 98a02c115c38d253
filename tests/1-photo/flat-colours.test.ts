import { readFileSync } from "node:fs";
import sharp, { type Sharp } from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { PHOTOGRAPHS, photographPath } from "../pipeline/photograph.js";

/** Half of the picture in one colour, a quarter in another, the rest transparent; the border of the two slants. */
const flag = (one: string, other: string): Sharp =>
  sharp(
    Buffer.from(
      `<svg xmlns="http://www.w3.org/2000/svg" width="800" height="400"><path d="M0 0H450L350 400H0z" fill="${one}"/><path d="M450 0H650L550 400H350z" fill="${other}"/></svg>`,
    ),
  );

const coloursOf = async (bytes: Uint8Array) => (await decodePhoto(bytes)).colours;

describe("the colours of a drawing", () => {
  const files = {
    png: (made: Sharp) => made.png().toBuffer(),
    "16 bits": (made: Sharp) => made.toColourspace("rgb16").png().toBuffer(),
    webp: (made: Sharp) => made.webp({ quality: 80 }).toBuffer(),
    "a JPEG on white": (made: Sharp) => made.flatten({ background: "#fff" }).jpeg({ quality: 75 }).toBuffer(),
  };
  for (const [kind, file] of Object.entries(files)) {
    it(`are found with their shares: ${kind}`, async () => {
      const colours = (await coloursOf(await file(flag("#d22f2f", "#1d2f6f")))) ?? [];
      const drawn = colours.filter(({ green }) => green < 200);
      expect(colours.length).toBe(kind === "a JPEG on white" ? 3 : 2);
      [
        [0xd2, 0x2f, 0x2f, 0.5],
        [0x1d, 0x2f, 0x6f, 0.25],
      ].forEach(([red, green, blue, share], k) => {
        expect(Math.abs(drawn[k].red - red)).toBeLessThan(6);
        expect(Math.abs(drawn[k].green - green)).toBeLessThan(6);
        expect(Math.abs(drawn[k].blue - blue)).toBeLessThan(6);
        // Two pixels of 256 lie along either edge of an area.
        expect(Math.abs(drawn[k].share - share)).toBeLessThan(0.02);
      });
    });
  }

  it("are those of areas, not of softened edges", async () => {
    const logo = readFileSync(new URL("../../sample-images/logo.svg", import.meta.url));
    expect(await coloursOf(logo)).toHaveLength(1);
    const onWhite = await sharp(logo).resize(800).flatten({ background: "#fff" }).jpeg().toBuffer();
    expect(await coloursOf(onWhite)).toHaveLength(2);
  });

  it.each(PHOTOGRAPHS)("are no matter in a photograph: %s", async (name) => {
    expect(await coloursOf(readFileSync(photographPath(name)))).toBeUndefined();
  });
});
