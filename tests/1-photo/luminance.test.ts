import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { linearFromSrgb, luminanceFromLinearRgb } from "../../src/core/physics/transfer.js";
import {
  checkValues,
  codesOf,
  lightOf,
  luminanceOfRgb,
  opacityOf,
  refusalOf,
  sizeOf,
} from "./expectations.js";
import { pngFile, tiffFile } from "./make-file.js";

/** What the decoder's own tables leave: measured 2.2e-5 in linear luminance. */
const TABLE_ERROR = 3e-5;

const brown = [200, 120, 40];
const brownLuminance = luminanceOfRgb(200, 120, 40);

/** Numbers 0..bound−1 that repeat from run to run. */
function* seeded(bound: number): Generator<number, never> {
  for (let state = 1; ; ) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    yield Math.floor((state / 2 ** 32) * bound);
  }
}

function take(source: Generator<number, never>, count: number): number[] {
  return Array.from({ length: count }, () => source.next().value);
}

function greatestError(actual: readonly number[], expected: readonly number[]): number {
  return actual.reduce((worst, value, i) => Math.max(worst, Math.abs(value - expected[i])), 0);
}

describe("published check values through the decoder", () => {
  it.each(checkValues<{ rgb: number[] }, number>("lum709."))(
    "$id ($source)",
    async ({ inputs, expected }) => {
      const file = pngFile({ type: "rgb", bits: 8, columns: 1, rows: 1, samples: inputs.rgb });
      expect(Math.abs(lightOf(await decodePhoto(file))[0] - expected)).toBeLessThan(TABLE_ERROR);
    },
  );

  it.each(checkValues<{ code: number }, number>("srgb.linear."))(
    "$id ($source)",
    async ({ inputs, expected }) => {
      const file = pngFile({ type: "grey", bits: 8, columns: 1, rows: 1, samples: [inputs.code] });
      expect(lightOf(await decodePhoto(file))[0]).toBeCloseTo(expected, 8);
    },
  );
});

describe("luminance", () => {
  it("is that of BT.709 on linear light for any 8-bit colour", async () => {
    const samples = take(seeded(256), 3 * 1024);
    const photo = await decodePhoto(pngFile({ type: "rgb", bits: 8, columns: 32, rows: 32, samples }));
    const expected = Array.from({ length: 1024 }, (_, i) =>
      luminanceOfRgb(samples[3 * i], samples[3 * i + 1], samples[3 * i + 2]),
    );
    expect(greatestError(lightOf(photo), expected)).toBeLessThan(TABLE_ERROR);
    expect(photo).toMatchObject({
      format: "png",
      sourceBits: 8,
      hadProfile: false,
      orientation: 1,
      pages: 1,
    });
    expect(photo.opacity).toBeUndefined();
  });

  it("keeps all 256 greys of 8 bits exactly, as code × 257, from grey and from neutral RGB", async () => {
    const greys = Array.from({ length: 256 }, (_, code) => code);
    const expected = greys.map((code) => code * 257);
    const grey = pngFile({ type: "grey", bits: 8, columns: 16, rows: 16, samples: greys });
    const rgb = pngFile({
      type: "rgb",
      bits: 8,
      columns: 16,
      rows: 16,
      samples: greys.flatMap((g) => [g, g, g]),
    });
    expect(codesOf(await decodePhoto(grey))).toEqual(expected);
    expect(codesOf(await decodePhoto(rgb))).toEqual(expected);
  });

  it("keeps every 16-bit grey of a PNG and of a TIFF exactly", async () => {
    const codes = Uint16Array.from({ length: 65536 }, (_, code) => code);
    const png = pngFile({ type: "grey", bits: 16, columns: 256, rows: 256, samples: Array.from(codes) });
    const data = new Uint8Array(codes.buffer);
    const tiff = tiffFile({ bits: 16, perPixel: 1, columns: 256, rows: 256, data });
    for (const file of [png, tiff]) {
      const photo = await decodePhoto(file);
      expect(greatestError(codesOf(photo), Array.from(codes))).toBe(0);
      expect(photo.sourceBits).toBe(16);
    }
  });

  it("weighs 16-bit colours at 16 bits, from PNG and TIFF", async () => {
    const samples = take(seeded(65536), 3 * 1024);
    const expected = Array.from({ length: 1024 }, (_, i) => {
      const [red, green, blue] = samples.slice(3 * i, 3 * i + 3).map((code) => linearFromSrgb(code / 65535));
      return luminanceFromLinearRgb(red, green, blue);
    });
    const data = new Uint8Array(Uint16Array.from(samples).buffer);
    const png = pngFile({ type: "rgb", bits: 16, columns: 32, rows: 32, samples });
    const tiff = tiffFile({ bits: 16, perPixel: 3, columns: 32, rows: 32, data });
    for (const file of [png, tiff]) {
      expect(greatestError(lightOf(await decodePhoto(file)), expected)).toBeLessThan(TABLE_ERROR);
    }
  });

  it("leaves the given bytes as they were", async () => {
    const file = pngFile({ type: "rgb", bits: 8, columns: 1, rows: 1, samples: brown });
    const copy = Buffer.from(file);
    await decodePhoto(file);
    expect(file.equals(copy)).toBe(true);
  });

  it("reads from a view into a larger buffer", async () => {
    const file = pngFile({ type: "rgb", bits: 8, columns: 1, rows: 1, samples: brown });
    const larger = new Uint8Array(file.length + 7);
    larger.set(file, 3);
    const photo = await decodePhoto(larger.subarray(3, 3 + file.length));
    expect(Math.abs(lightOf(photo)[0] - brownLuminance)).toBeLessThan(TABLE_ERROR);
  });
});

describe("opacity", () => {
  const half = [...brown, 128, ...brown, 255, ...brown, 1];

  it.each([
    ["png", () => pngFile({ type: "rgba", bits: 8, columns: 3, rows: 1, samples: half })],
    [
      "tiff",
      () => tiffFile({ bits: 8, perPixel: 4, extraSample: 2, columns: 3, rows: 1, data: Buffer.from(half) }),
    ],
    [
      "webp",
      () =>
        sharp(Buffer.from(half), { raw: { width: 3, height: 1, channels: 4 } })
          .webp({ lossless: true })
          .toBuffer(),
    ],
  ])("of %s stands beside a luminance that it does not darken", async (format, make) => {
    const photo = await decodePhoto(await make());
    expect(photo.format).toBe(format);
    expect(greatestError(lightOf(photo), [brownLuminance, brownLuminance, brownLuminance])).toBeLessThan(
      TABLE_ERROR,
    );
    expect(opacityOf(photo)).toEqual([128 * 257, 65535, 257]);
    expect(photo.opacity?.pixels.shape).toEqual([1, 3]);
  });

  it("of a TIFF stored premultiplied is divided out of the luminance", async () => {
    const data = Buffer.from([100, 60, 20, 128]);
    const photo = await decodePhoto(
      tiffFile({ bits: 8, perPixel: 4, extraSample: 1, columns: 1, rows: 1, data }),
    );
    // 100 × 255/128 = 199.2, stored in 8 bits as 199: half a code is 0.002 of luminance here.
    expect(Math.abs(lightOf(photo)[0] - brownLuminance)).toBeLessThan(0.005);
    expect(opacityOf(photo)).toEqual([128 * 257]);
  });

  it("keeps 16 bits", async () => {
    const samples = [0x1234, 0x8001, 0xfedc, 0xffff];
    const photo = await decodePhoto(pngFile({ type: "greyAlpha", bits: 16, columns: 2, rows: 1, samples }));
    expect(codesOf(photo)).toEqual([0x1234, 0xfedc]);
    expect(opacityOf(photo)).toEqual([0x8001, 0xffff]);
  });

  it("comes from a palette's transparency", async () => {
    const palette = [...brown, 255, 255, 255, 0, 0, 0];
    const samples = [0, 1, 2, 0];
    const transparency = [128, 255, 0];
    const file = pngFile({ type: "palette", bits: 8, columns: 4, rows: 1, samples, palette, transparency });
    const photo = await decodePhoto(file);
    expect(greatestError(lightOf(photo), [brownLuminance, 1, 0, brownLuminance])).toBeLessThan(TABLE_ERROR);
    expect(opacityOf(photo)).toEqual([128 * 257, 65535, 0, 128 * 257]);
  });

  it("comes from a grey that is declared transparent", async () => {
    const content = {
      type: "grey",
      bits: 8,
      columns: 3,
      rows: 1,
      samples: [10, 20, 30],
      transparency: [0, 20],
    } as const;
    expect(opacityOf(await decodePhoto(pngFile(content)))).toEqual([65535, 0, 65535]);
  });

  it("is left out where every pixel is opaque", async () => {
    const photo = await decodePhoto(
      pngFile({ type: "rgba", bits: 8, columns: 1, rows: 1, samples: [...brown, 255] }),
    );
    expect(photo.opacity).toBeUndefined();
    expect(sizeOf(photo)).toEqual([1, 1]);
  });
});

describe("formats", () => {
  const flat = () => sharp({ create: { width: 24, height: 16, channels: 3, background: "#c87828" } });
  /** One code of an 8-bit channel near this colour. */
  const LOSSY = 0.01;

  it.each([
    ["jpeg", () => flat().jpeg({ quality: 95 }).toBuffer()],
    ["jpeg", () => flat().jpeg({ quality: 95, progressive: true }).toBuffer()],
    ["png", () => flat().png().toBuffer()],
    ["webp", () => flat().webp({ quality: 95 }).toBuffer()],
    ["avif", () => flat().avif({ quality: 90 }).toBuffer()],
    ["avif", () => flat().avif({ quality: 90, bitdepth: 10 }).toBuffer()],
    ["gif", () => flat().gif().toBuffer()],
    ["tiff", () => flat().tiff({ compression: "lzw" }).toBuffer()],
    ["tiff", () => flat().tiff({ compression: "jpeg", quality: 95 }).toBuffer()],
  ] as const)("%s, variant %#", async (format, make) => {
    const photo = await decodePhoto(await make());
    expect(photo.format).toBe(format);
    expect(sizeOf(photo)).toEqual([16, 24]);
    expect(greatestError(lightOf(photo), Array(16 * 24).fill(brownLuminance))).toBeLessThan(LOSSY);
    expect(photo.opacity).toBeUndefined();
  });

  it.each(["gif", "webp"] as const)(
    "an animated %s gives its first frame, and says how many there are",
    async (format) => {
      const frame = (background: string) =>
        sharp({ create: { width: 8, height: 6, channels: 3, background } })
          .png()
          .toBuffer();
      const frames = [await frame("#ffffff"), await frame("#000000"), await frame("#808080")];
      const photo = await decodePhoto(
        await sharp(frames, { join: { animated: true } })
          .toFormat(format)
          .toBuffer(),
      );
      expect(sizeOf(photo)).toEqual([6, 8]);
      expect(Math.min(...lightOf(photo))).toBeGreaterThan(0.99);
      expect(photo.pages).toBe(3);
    },
  );

  it.each([
    ["floating-point", 3],
    ["integer", 1],
  ] as const)("a TIFF of 32-bit %s samples is refused by name", async (_, sampleFormat) => {
    const file = tiffFile({
      bits: 32,
      perPixel: 1,
      columns: 1,
      rows: 1,
      data: Buffer.alloc(4),
      sampleFormat,
    });
    const refusal = await refusalOf(file, { fileName: "net.tif" });
    expect(refusal.code).toBe("INPUT_NOT_AN_IMAGE");
    expect(refusal.message).toMatch(/"net\.tif".*32-bit.*8 or 16 bits/s);
  });
});
