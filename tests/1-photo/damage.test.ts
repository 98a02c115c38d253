import { readFileSync } from "node:fs";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { isOutOfStep, readJpegScan } from "../../src/1-photo/jpeg-scan.js";
import { SpotpitchError } from "../../src/core/errors.js";
import { seededRandom } from "../../src/core/random.js";
import { resolveOptions } from "../../src/options/options.js";
import { prepare } from "../../src/pipeline/prepare.js";
import { triagePhoto } from "../../src/pipeline/triage/triage.js";
import { photographPath } from "../pipeline/photograph.js";
import { codesOf, refusalOf } from "./expectations.js";

const names = ["nagasaki-boats", "allium-oreophilum", "black-canyon"] as const;
const photographs = names.map((name) => readFileSync(photographPath(name)));
const small = (file: Buffer) => sharp(file).resize(400);

/** JPEG files as they come, 4:4:4, 4:2:0 and in one channel, and of several scans. */
const forms: Record<string, (file: Buffer) => Promise<Buffer>> = {
  "4:4:4": async (file) => file,
  "4:2:0": (file) => small(file).jpeg({ quality: 85 }).toBuffer(),
  grey: (file) => small(file).greyscale().jpeg().toBuffer(),
  progressive: (file) => small(file).jpeg({ progressive: true }).toBuffer(),
};

/** Bytes from `share` of the file on overwritten. */
function overwritten(file: Buffer, share: number, length: number, byteAt: () => number): Buffer {
  const changed = Buffer.from(file);
  const from = Math.floor(share * file.length);
  for (let i = 0; i < length; i++) changed[from + i] = byteAt();
  return changed;
}

const looksDamaged = async (file: Buffer): Promise<boolean> => (await decodePhoto(file)).looksDamaged;

describe.each(Object.entries(forms))("a JPEG photograph, %s,", (_, form) => {
  it("is not called damaged as it is", async () => {
    for (const file of photographs) expect(await looksDamaged(await form(file))).toBe(false);
  });

  it("is told to look damaged, or refused, where a few hundred bytes in its middle were overwritten", async () => {
    const random = seededRandom(5);
    let [told, all] = [0, 0];
    for (const file of await Promise.all(photographs.map(form))) {
      for (const share of [0.3, 0.5, 0.7]) {
        for (const byteAt of [() => Math.floor(256 * random()), () => 0]) {
          const changed = overwritten(file, share, 400, byteAt);
          const found = await looksDamaged(changed).catch((error: unknown) => error);
          all++;
          if (found instanceof SpotpitchError ? found.code === "INPUT_DAMAGED" : found === true) told++;
        }
      }
    }
    // Codes may get back into step in the same block by chance.
    expect(told / all).toBeGreaterThanOrEqual(0.8);
  });

  it("that the decoder itself complains of is always told to look damaged", async () => {
    const random = seededRandom(11);
    let complaints = 0;
    const file = await form(photographs[0]);
    for (let n = 0; n < 24; n++) {
      const changed = overwritten(file, 0.3 + 0.6 * random(), 100, () => Math.floor(256 * random()));
      const complaint = await sharp(changed, { failOn: "warning" })
        .raw()
        .toBuffer()
        .then(
          () => "",
          (error: Error) => error.message,
        );
      if (!/premature end|bad Huffman/.test(complaint)) continue;
      complaints++;
      const found = await looksDamaged(changed).catch((error: unknown) => error);
      if (!(found instanceof SpotpitchError)) expect(found).toBe(true);
    }
    expect(complaints).toBeGreaterThan(2);
  });

  it("cut short is refused, not mended", async () => {
    const file = await form(photographs[1]);
    expect((await refusalOf(file.subarray(0, file.length / 2))).code).toBe("INPUT_DAMAGED");
  });
});

describe("a JPEG with oddities that cameras write", () => {
  const insert = (file: Buffer, at: number, ...bytes: readonly number[]) =>
    Buffer.concat([file.subarray(0, at), Buffer.from(bytes), file.subarray(at)]);
  const latin = (text: string) => [...Buffer.from(text, "latin1")];
  const odd: Record<string, (jpeg: Buffer) => Buffer> = {
    "stray bytes before a segment": (jpeg) => insert(jpeg, 2, 0, 0, 0),
    "stray bytes before the scan": (jpeg) => insert(jpeg, jpeg.indexOf(Buffer.from([0xff, 0xda])), 1, 2),
    "stray bytes before the end marker": (jpeg) => insert(jpeg, jpeg.length - 2, 1, 2, 3, 4, 5),
    "a damaged Exif block": (jpeg) =>
      insert(jpeg, 2, ...latin("\xff\xe1\0\x10Exif\0\0II*\0\xff\xff\xff\xff")),
    "a colour profile that is none": (jpeg) =>
      insert(jpeg, 2, ...latin("\xff\xe2\0\x1aICC_PROFILE\0\x01\x01garbagegar")),
    "a JFIF version that nobody knows": (jpeg) =>
      insert(jpeg, 2, ...latin("\xff\xe0\0\x10JFIF\0\x07\x07\x01\0\x48\0\x48\0\0")),
    "a second picture behind the first": (jpeg) => Buffer.concat([jpeg, jpeg]),
  };

  describe.each(["4:2:0", "progressive"])("%s", (form) => {
    it.each(Object.entries(odd))("%s", async (_, change) => {
      const jpeg = await forms[form](photographs[2]);
      const changed = change(jpeg);
      const photo = await decodePhoto(changed);
      expect(photo.looksDamaged).toBe(false);
      expect(codesOf(photo)).toEqual(codesOf(await decodePhoto(jpeg)));
    });
  });

  it("padding behind the last block", async () => {
    const jpeg = await forms["4:2:0"](photographs[2]);
    expect(await looksDamaged(insert(jpeg, jpeg.length - 2, ...new Array(500).fill(0)))).toBe(false);
  });
});

describe("restart markers", () => {
  /**
   * 24 × 8 pixels of middle grey in the example tables of T.81 (K.3 and K.5): each block is 00 (no change of the mean) and 1010
   * (end of block), padded with ones, between its own restart markers.
   */
  async function restarting(...stretches: readonly number[][]): Promise<Buffer> {
    const flat = await sharp({ create: { width: 24, height: 8, channels: 3, background: "#808080" } })
      .toColourspace("b-w")
      .jpeg({ optimiseCoding: false })
      .toBuffer();
    const scan = flat.indexOf(Buffer.from([0xff, 0xda]));
    const data = scan + 2 + flat.readUInt16BE(scan + 2);
    const marked = stretches.flatMap((stretch, i) => (i === 0 ? stretch : [0xff, 0xcf + i, ...stretch]));
    const parts = [[0xff, 0xdd, 0, 4, 0, 1], [...flat.subarray(scan, data)], marked, [0xff, 0xd9]];
    return Buffer.concat([flat.subarray(0, scan), ...parts.map((part) => Buffer.from(part))]);
  }
  const block = 0b00101011;

  it("begin stretches that are judged one by one", async () => {
    const whole = await restarting([block], [block], [block]);
    expect(new Set(codesOf(await decodePhoto(whole)))).toEqual(new Set([128 * 257]));
    expect(await looksDamaged(whole)).toBe(false);
    const outOfStep = async (...stretches: readonly number[][]) => {
      const file = await restarting(...stretches);
      const scan = readJpegScan(file);
      return scan && isOutOfStep(file, scan);
    };
    const tooMuch = [block, 1, 2, 3, 4, 5, 6, 7, 8, 9];
    expect(await outOfStep([block], tooMuch, [block])).toBe(true);
    expect(await outOfStep([block], [], [block])).toBe(true);
    expect(await outOfStep([block], [block])).toBe(true);
  });
});

describe("other formats", () => {
  it("a PNG with a wrong checksum is refused", async () => {
    const png = await small(photographs[0]).png().toBuffer();
    const changed = overwritten(png, 0.5, 1, () => (png[Math.floor(0.5 * png.length)] ^ 1) & 255);
    expect((await refusalOf(changed)).code).toBe("INPUT_DAMAGED");
  });

  it("a WebP whose header of the picture was overwritten is refused", async () => {
    const webp = await small(photographs[0]).webp().toBuffer();
    expect((await refusalOf(overwritten(webp, 20 / webp.length, 30, () => 0))).code).toMatch(/^INPUT_/);
  });
});

it("the report of a damaged photo warns, with what to do", async () => {
  const options = { widthMm: 20, linesPerInch: 127, method: "floyd-steinberg", bitmapOnly: true } as const;
  const whole = await forms["4:2:0"](photographs[2]);
  const codes = async (file: Buffer) => (await prepare(file, options)).report.warnings;
  expect((await codes(whole)).map(({ code }) => code)).not.toContain("photo-damaged");
  const [first] = await codes(overwritten(whole, 0.5, 400, () => 0));
  expect(first.code).toBe("photo-damaged");
  expect(first.message).toMatch(/smeared.*ask for it again/);
});

it("a customer is asked for a damaged upload again", async () => {
  const whole = await forms["4:2:0"](photographs[2]);
  const triage = async (file: Buffer) =>
    triagePhoto(await decodePhoto(file), resolveOptions({ widthMm: 30, linesPerInch: 254 }));
  const { grade, findings } = await triage(overwritten(whole, 0.5, 400, () => 0));
  expect(grade).toBe("ask");
  expect(findings.map(({ code }) => code)).toContain("DAMAGED");
  expect((await triage(whole)).findings.map(({ code }) => code)).not.toContain("DAMAGED");
});
