import { readFileSync } from "node:fs";
import type { Sharp } from "sharp";
import { afterEach, describe, expect, it, vi } from "vitest";
import { decodePhoto, inspectPhoto } from "../../src/1-photo/decode.js";
import { srgbFromLinear } from "../../src/core/physics/transfer.js";
import { codesOf, luminanceOfRgb, opacityOf, refusalOf, sizeOf } from "./expectations.js";
import { heicSource, patches } from "./heic-source.js";

/** Encoded from `heicSource` by heif-enc: see data/make-heic.ts. */
const file = (name: string): Buffer => readFileSync(new URL(`data/${name}.heic`, import.meta.url));
const plain = file("harbour");
const p3 = file("harbour-p3");

/** A copy with a box of properties overwritten from its kind on. */
function patched(bytes: Buffer, kind: string, replacement: readonly (string | number)[]): Buffer {
  const copy = Buffer.from(bytes);
  const at = copy.indexOf(kind);
  expect(at).toBeGreaterThan(0);
  Buffer.concat(replacement.map((part) => Buffer.from(typeof part === "string" ? part : [part]))).copy(
    copy,
    at,
  );
  return copy;
}

/** The last property of the picture, its number of bits, becomes a turn (ISO/IEC 23008-12, 6.5.10) or a mirror (6.5.12). */
const turned = (bytes: Buffer, quarters: number): Buffer => patched(bytes, "pixi", ["irot", quarters]);
const mirrored = (bytes: Buffer, axis: number): Buffer => patched(bytes, "pixi", ["imir", axis]);
/** The profile becomes code points (ISO/IEC 14496-12, 12.1.5). */
const coded = (primaries: number, transfer: number): Buffer =>
  patched(p3, "prof", ["nclx", 0, primaries, 0, transfer, 0, 6, 0x80]);

/** Root of the mean squared difference of luminance, of 1, between a HEIC file and the picture that was encoded. */
async function difference(bytes: Buffer, wanted: Sharp): Promise<number> {
  const [made, source] = [await decodePhoto(bytes), await decodePhoto(await wanted.png().toBuffer())];
  expect(sizeOf(made)).toEqual(sizeOf(source));
  const codes = codesOf(source);
  const squares = codesOf(made).map((code, i) => ((code - codes[i]) / 65535) ** 2);
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
}

/** Losses of the compression: at quality 90 the encoder's own library comes to 0.02. */
const LIKE = 0.025;

describe("a HEIC photo", () => {
  it("is decoded, and tells its facts before", async () => {
    expect(await inspectPhoto(plain)).toMatchObject({ format: "heic", columns: 64, rows: 48 });
    expect(await difference(plain, await heicSource())).toBeLessThan(LIKE);
    const facts = { format: "heic", hadProfile: false, orientation: 1, sourceBits: 8, pages: 1 };
    expect(await decodePhoto(plain)).toMatchObject(facts);
  });

  it.each([
    [1, 270],
    [2, 180],
    [3, 90],
  ])(
    "with a turn of %i quarters to the left is turned once, whatever its Exif says",
    async (quarters, degrees) => {
      for (const bytes of [plain, file("harbour-exif")]) {
        const wanted = (await heicSource()).rotate(degrees);
        expect(await difference(turned(bytes, quarters), wanted)).toBeLessThan(LIKE);
      }
    },
  );

  it("is not turned by Exif, and is mirrored by its own word", async () => {
    expect(await difference(file("harbour-exif"), await heicSource())).toBeLessThan(LIKE);
    expect(await difference(mirrored(plain, 1), (await heicSource()).flop())).toBeLessThan(LIKE);
    expect(await difference(mirrored(plain, 0), (await heicSource()).flip())).toBeLessThan(LIKE);
  });

  it.each([
    ["profile", p3, true],
    ["code points", coded(12, 13), true],
    ["profile, if it is taken for sRGB", coded(1, 13), false],
  ])("has its colours by its %s", async (_what, bytes, isRight) => {
    const codes = codesOf(await decodePhoto(bytes));
    const off = patches.map((colour, i) => {
      const [red, green, blue] = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
      const wanted = srgbFromLinear(luminanceOfRgb(red, green, blue));
      return Math.abs(codes[(16 * i + 8) * 64 + 56] / 65535 - wanted);
    });
    // An 8-bit step is 0.004. Blue as sRGB would be darker by 0.013.
    if (isRight) expect(Math.max(...off)).toBeLessThan(0.006);
    else expect(off[2]).toBeGreaterThan(0.009);
    expect((await decodePhoto(bytes)).hadProfile).toBe(isRight);
  });

  it("keeps its opacity", async () => {
    const opacity = opacityOf(await decodePhoto(file("harbour-clear"))) ?? [];
    expect(opacity).toHaveLength(64 * 48);
    for (const each of opacity) expect(each / 65535).toBeCloseTo(0.5, 1);
  });

  it.each([
    ["of a wide range of light", coded(12, 16), "INPUT_NOT_AN_IMAGE", /HDR screen.*as JPEG/s],
    ["of other primaries", coded(9, 13), "INPUT_NOT_AN_IMAGE", /HDR screen.*as JPEG/s],
    ["cut off", plain.subarray(0, 2500), "INPUT_DAMAGED", /HEIC/],
    ["cut off in its header", plain.subarray(0, 200), "INPUT_DAMAGED", /HEIC/],
  ] as const)("is refused, %s", async (_what, bytes, code, message) => {
    const refusal = await refusalOf(bytes, { fileName: "boat.heic" });
    expect(refusal).toMatchObject({ code, message: expect.stringMatching(message) });
  });

  it("of too many pixels is refused before it is decoded", async () => {
    expect((await refusalOf(plain, { maxPixels: 64 * 48 - 1 })).code).toBe("INPUT_TOO_LARGE");
  });
});

describe("without the package that decodes HEIC", () => {
  afterEach(() => {
    vi.doUnmock("../../src/1-photo/heic/heif-library.js");
    vi.resetModules();
  });

  it("a photo is refused with what the customer can do", async () => {
    vi.doMock("../../src/1-photo/heic/heif-library.js", () => ({
      loadHeif: () => Promise.reject(new Error("Cannot find package")),
    }));
    vi.resetModules();
    const { decodePhoto: decodeWithout } = await import("../../src/1-photo/decode.js");
    await expect(decodeWithout(plain, { fileName: "boat.heic" })).rejects.toMatchObject({
      code: "INPUT_NOT_AN_IMAGE",
      message: expect.stringMatching(/^"boat.heic" is a HEIC photo, which cannot be read.*as JPEG/s),
    });
  });
});
