import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { linearFromSrgb } from "../../src/core/physics/transfer.js";
import { lightOf, luminanceOfRgb, opacityOf } from "./expectations.js";
import { greyProfile, pngFile, rgbProfile } from "./make-file.js";

/**
 * Primaries of Adobe RGB (1998), adapted to D50, its exponent and its luminance weights.
 * Source: Adobe RGB (1998) Color Image Encoding, version 2005-05, sections 4.3.4 and 4.3.5.
 */
const wideGamut = {
  profile: rgbProfile(
    [0.60974, 0.31111, 0.01947],
    [0.20528, 0.62567, 0.06087],
    [0.14919, 0.06322, 0.74457],
    563 / 256,
  ),
  luminance: (rgb: readonly number[], top: number): number => {
    const [red = 0, green = 0, blue = 0] = rgb.map((code) => (code / top) ** (563 / 256));
    return 0.29734 * red + 0.62736 * green + 0.07529 * blue;
  },
};

/** Muted colours, which sRGB can hold as well. */
const colours = [
  [180, 120, 60],
  [128, 128, 128],
  [110, 160, 100],
  [90, 100, 180],
  [255, 255, 255],
  [0, 0, 0],
];

describe("an embedded colour profile", () => {
  it.each([8, 16] as const)("of a wide gamut is followed, %i bits", async (bits) => {
    const scale = bits === 8 ? 1 : 257;
    const samples = colours.flat().map((code) => code * scale);
    const content = {
      type: "rgb",
      bits,
      columns: colours.length,
      rows: 1,
      samples,
      profile: wideGamut.profile,
    } as const;
    const photo = await decodePhoto(pngFile(content));
    const expected = colours.map((rgb) => wideGamut.luminance(rgb, 255));
    // Through 8 bits of sRGB on the way: half a code of green is 0.002 at middle tones.
    const tolerance = bits === 8 ? 3e-3 : 5e-4;
    for (const [i, light] of lightOf(photo).entries()) {
      expect(Math.abs(light - expected[i]), `colour ${i}`).toBeLessThan(tolerance);
    }
    // The same numbers read as sRGB would be off by ten times the tolerance and more.
    const [brown = []] = colours;
    expect(Math.abs(luminanceOfRgb(brown[0], brown[1], brown[2]) - expected[0])).toBeGreaterThan(0.01);
    expect(photo.hadProfile).toBe(true);
  });

  it("of Display P3 at 16 bits gives the luminance of those primaries, opacity untouched", async () => {
    const samples = [50000, 30000, 12000, 32769];
    const file = await sharp(Uint16Array.from(samples), { raw: { width: 1, height: 1, channels: 4 } })
      .toColourspace("rgb16")
      .withIccProfile("p3")
      .png()
      .toBuffer();
    const stored = await sharp(file, { ignoreIcc: true })
      .toColourspace("rgb16")
      .raw({ depth: "ushort" })
      .toBuffer();
    const [red, green, blue] = [0, 2, 4].map((at) => linearFromSrgb(stored.readUInt16LE(at) / 65535));
    // Weights: second row of the RGB to XYZ matrix of the P3 primaries with D65 (SMPTE EG 432-1; W3C CSS Color 4).
    const expected = 0.22897456 * red + 0.69173852 * green + 0.07928691 * blue;
    const photo = await decodePhoto(file);
    expect(Math.abs(lightOf(photo)[0] - expected)).toBeLessThan(5e-4);
    expect(opacityOf(photo)).toEqual([32769]);
  });

  it.each([8, 16] as const)("of a grey picture is followed, %i bits", async (bits) => {
    const codes = [16, 64, 128, 192, 240];
    const samples = codes.map((code) => code * (bits === 8 ? 1 : 257));
    const profile = greyProfile(1.8);
    const photo = await decodePhoto(
      pngFile({ type: "grey", bits, columns: codes.length, rows: 1, samples, profile }),
    );
    for (const [i, light] of lightOf(photo).entries()) {
      expect(Math.abs(light - (codes[i] / 255) ** 1.8), `code ${codes[i]}`).toBeLessThan(5e-3);
    }
  });

  it("that makes no sense is ignored, and the picture read as sRGB", async () => {
    const profile = Buffer.alloc(200, 7);
    const photo = await decodePhoto(
      pngFile({ type: "rgb", bits: 8, columns: 1, rows: 1, samples: [200, 120, 40], profile }),
    );
    expect(Math.abs(lightOf(photo)[0] - luminanceOfRgb(200, 120, 40))).toBeLessThan(3e-5);
  });
});

describe("a JPEG of four inks", () => {
  const greys = [0, 64, 128, 192, 255];
  const inks = async (withProfile: boolean) => {
    const bars = greys.flatMap((grey) => Array(16).fill([grey, grey, grey])).flat();
    const row = { width: 16 * greys.length, height: 1, channels: 3 } as const;
    const four = sharp(Uint8Array.from(bars), { raw: row }).resize({
      height: 16,
      fit: "fill",
      kernel: "nearest",
    });
    const converted = four.toColourspace("cmyk");
    return (withProfile ? converted.withIccProfile("cmyk") : converted).jpeg({ quality: 98 }).toBuffer();
  };

  it.each([true, false])(
    "comes back to the greys it was separated from; with a profile: %s",
    async (withProfile) => {
      const file = await inks(withProfile);
      expect((await sharp(file).metadata()).space).toBe("cmyk");
      const photo = await decodePhoto(file);
      expect(photo.hadProfile).toBe(withProfile);
      const middles = greys.map((_, i) => linearFromSrgb(photo.luminance.pixels.get(8, 16 * i + 8) / 65535));
      for (const [i, light] of middles.entries()) {
        // Perceptual separation moves the middle tones; inverted inks would put white and black 1 off.
        expect(Math.abs(light - linearFromSrgb(greys[i] / 255)), `grey ${greys[i]}`).toBeLessThan(0.12);
      }
    },
  );
});
