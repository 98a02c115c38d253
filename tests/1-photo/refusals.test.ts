import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { startsWithPreview } from "../../src/1-photo/tiff-preview.js";
import { SpotpitchError } from "../../src/core/errors.js";
import { seededRandom } from "../../src/core/random.js";
import { codesOf, refusalOf } from "./expectations.js";
import { hollowPng, tiffFile } from "./make-file.js";

const formats = ["jpeg", "progressive jpeg", "png", "webp", "gif", "tiff", "avif"] as const;

/** A small picture with detail everywhere, in every format. */
const files: Record<string, Buffer> = {};

beforeAll(async () => {
  const [width, height] = [96, 64];
  const samples = Uint8Array.from({ length: 3 * width * height }, (_, i) => (i * i + (i >> 5)) % 251);
  const picture = () => sharp(samples, { raw: { width, height, channels: 3 } });
  files.jpeg = await picture().jpeg().toBuffer();
  files["progressive jpeg"] = await picture().jpeg({ progressive: true }).toBuffer();
  files.png = await picture().png().toBuffer();
  files.webp = await picture().webp().toBuffer();
  files.gif = await picture().gif().toBuffer();
  files.tiff = await picture().tiff({ compression: "lzw" }).toBuffer();
  files.avif = await picture().avif().toBuffer();
});

describe("what is no picture", () => {
  it("an empty file says so", async () => {
    const refusal = await refusalOf(new Uint8Array(0), { fileName: "boat.jpg" });
    expect(refusal.code).toBe("INPUT_EMPTY");
    expect(refusal.message).toMatch(/"boat\.jpg" is empty.*Allowed: a JPEG, PNG/s);
  });

  it.each([
    [
      "text",
      Buffer.from("Please engrave the lighthouse, 80 mm wide.\n".repeat(20)),
      /not a picture that can be read/,
    ],
    ["one byte", Buffer.from("x"), /not a picture that can be read/],
    [
      "a web page",
      Buffer.from("<!doctype html><html><body>Order 12</body></html>"),
      /not a picture that can be read/,
    ],
    ["a PDF", Buffer.from("%PDF-1.7\n1 0 obj\n<<>>\nendobj\n"), /a PDF document.*PNG or SVG/s],
    ["a ZIP archive", Buffer.from(`PK\x03\x04${"\0".repeat(60)}`), /a ZIP archive.*Unpack/s],
    ["a BMP", Buffer.from(`BM${"\0".repeat(60)}`), /a BMP picture.*PNG/s],
    ["a video", Buffer.from(`\0\0\0\x18ftypmp42${"\0".repeat(60)}`), /a video.*frame/s],
  ])("%s", async (_, bytes, message) => {
    const refusal = await refusalOf(bytes, { fileName: "boat.jpg" });
    expect(refusal.code).toBe("INPUT_NOT_AN_IMAGE");
    expect(refusal.message).toMatch(/^"boat\.jpg" is /);
    expect(refusal.message).toMatch(message);
    expect(refusal.cause).toBeInstanceOf(Error);
  });
});

describe("a TIFF that starts with a preview, as camera raw files do", () => {
  const content = { bits: 8, perPixel: 1, columns: 2, rows: 1, data: Buffer.from([0, 255]) } as const;

  it("is refused, and not taken for the small picture", async () => {
    const refusal = await refusalOf(tiffFile({ ...content, preview: true }), { fileName: "quay.dng" });
    expect(refusal.code).toBe("INPUT_NOT_AN_IMAGE");
    expect(refusal.message).toMatch(/camera raw.*full picture as JPEG, PNG or TIFF/s);
    expect(codesOf(await decodePhoto(tiffFile(content)))).toEqual([0, 65535]);
  });

  it("is recognised in either byte order", () => {
    const bigEndian = [0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 0, 254, 0, 4, 0, 0, 0, 1, 0, 0, 0, 1];
    expect(startsWithPreview(Uint8Array.from(bigEndian))).toBe(true);
    expect(startsWithPreview(Uint8Array.from(bigEndian.with(21, 2)))).toBe(false);
    expect(startsWithPreview(Uint8Array.from(bigEndian.slice(0, 15)))).toBe(false);
  });
});

describe("too large", () => {
  it("a small file that declares 900 megapixels is refused before any is decoded", async () => {
    const refusal = await refusalOf(hollowPng(30_000, 30_000), { fileName: "net.png" });
    expect(refusal.code).toBe("INPUT_TOO_LARGE");
    expect(refusal.message).toMatch(
      /"net\.png" declares 30000 × 30000 pixels.*up to 268402689.*Scale it down/s,
    );
    expect(refusal.received).toEqual([30_000, 30_000]);
  });

  it("the largest allowed size is not: it fails for the pixels that are missing", async () => {
    expect((await refusalOf(hollowPng(16_383, 16_383))).code).toBe("INPUT_DAMAGED");
    expect((await refusalOf(hollowPng(16_384, 16_383))).code).toBe("INPUT_TOO_LARGE");
  });
});

describe("damage", () => {
  describe.each(formats)("%s", (format) => {
    it.each([0.2, 0.5, 0.95])("cut at %d of its length", async (share) => {
      const whole = files[format];
      const refusal = await refusalOf(whole.subarray(0, Math.floor(share * whole.length)), {
        fileName: "dog",
      });
      expect(refusal.code).toBe("INPUT_DAMAGED");
      expect(refusal.message).toMatch(/^"dog" starts as an? \w+ picture, but is damaged/);
      expect(refusal.cause).toBeInstanceOf(Error);
    });

    it("with bytes appended decodes as before", async () => {
      const longer = Buffer.concat([files[format], Buffer.alloc(500, 7)]);
      expect(codesOf(await decodePhoto(longer))).toEqual(codesOf(await decodePhoto(files[format])));
    });

    it("with random bytes changed either decodes or is refused in our own words", async () => {
      const random = seededRandom(7);
      for (let n = 0; n < 40; n++) {
        const changed = Buffer.from(files[format]);
        for (let k = 0; k < 4; k++)
          changed[Math.floor(random() * changed.length)] = Math.floor(random() * 256);
        const failure = await decodePhoto(changed).then(
          () => undefined,
          (error: unknown) => error,
        );
        if (failure !== undefined) expect(failure).toBeInstanceOf(SpotpitchError);
      }
    });
  });

  it("a flipped bit in a PNG's pixels is found by its checksum", async () => {
    const changed = Buffer.from(files.png);
    changed[Math.floor(changed.length * 0.6)] ^= 1;
    expect((await refusalOf(changed)).code).toBe("INPUT_DAMAGED");
  });
});

describe("oddities that cameras write, and that decode all the same", () => {
  const insert = (file: Buffer, at: number, bytes: Uint8Array) =>
    Buffer.concat([file.subarray(0, at), bytes, file.subarray(at)]);
  const exif = Buffer.from("\xff\xe1\0\x10Exif\0\0II*\0\xff\xff\xff\xff", "latin1");
  const startOfScan = Buffer.from([0xff, 0xda]);

  it.each<[string, (jpeg: Buffer) => Buffer]>([
    ["stray bytes before a segment", (jpeg) => insert(jpeg, 2, Buffer.from([0, 0, 0]))],
    [
      "stray bytes before the end marker",
      (jpeg) => insert(jpeg, jpeg.length - 2, Buffer.from([1, 2, 3, 4, 5])),
    ],
    ["a damaged Exif block", (jpeg) => insert(jpeg, 2, exif)],
    ["a second picture behind the first", (jpeg) => Buffer.concat([jpeg, jpeg])],
    [
      "a scan that names an impossible band",
      (jpeg) => {
        const changed = Buffer.from(jpeg);
        const scan = changed.indexOf(startOfScan);
        changed[scan + 6 + 2 * changed[scan + 4]] = 0;
        return changed;
      },
    ],
  ])("%s", async (_, change) => {
    const odd = change(files.jpeg);
    expect(odd.equals(files.jpeg)).toBe(false);
    expect(codesOf(await decodePhoto(odd))).toEqual(codesOf(await decodePhoto(files.jpeg)));
  });
});
