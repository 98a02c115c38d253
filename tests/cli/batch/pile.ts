import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import sharp, { type Sharp } from "sharp";
import { PHOTOGRAPHS, photographPath } from "../../pipeline/photograph.js";
import { notFiles, oddUploads, putHostileUploads, refusedUploads } from "./hostile-uploads.js";

const sample = (name: string): string =>
  fileURLToPath(new URL(`../../../sample-images/${name}.jpg`, import.meta.url));

/** Every photograph there is. */
const SOURCES = [
  ...PHOTOGRAPHS.map((name) => [name, photographPath(name)] as const),
  ...["harbour", "lighthouse", "portrait", "dog-on-quay", "nets"].map(
    (name) => [name, sample(name)] as const,
  ),
];

/** Encodings that customers send, one upload each. */
const ENCODINGS: Readonly<Record<string, (picture: Sharp) => Sharp>> = {
  "fine.jpg": (picture) => picture.jpeg({ quality: 95 }),
  "poor.jpg": (picture) => picture.jpeg({ quality: 20 }),
  "progressive.jpg": (picture) => picture.withMetadata({ orientation: 6 }).jpeg({ progressive: true }),
  "cmyk.jpg": (picture) => picture.toColourspace("cmyk").jpeg(),
  "plain.png": (picture) => picture.png(),
  "deep.png": (picture) => picture.toColourspace("rgb16").png(),
  "clear.png": (picture) => picture.ensureAlpha(0.5).png(),
  "plain.webp": (picture) => picture.webp(),
  "plain.avif": (picture) => picture.avif({ effort: 0 }),
  "plain.gif": (picture) => picture.gif({ effort: 1 }),
  "packed.tiff": (picture) => picture.tiff({ compression: "lzw" }),
};

const WIDTHS_PX = [240, 900] as const;

/** Phone pictures in between, since small ones alone would tell nothing of memory. */
const PHONE = { width: 4032, height: 3024 };
const PHONES = 8;

/** Width and height of one upload among the small ones: 100 megapixels. */
export const LARGE_PX = { width: 11548, height: 8660 };

/** What must become of each upload: `prepared`, or the code that it is refused with. */
export type Expected = ReadonlyMap<string, string>;

/** Fill a folder with at least 300 uploads, good ones and hostile ones. */
export async function makePile(folder: string): Promise<Expected> {
  mkdirSync(folder, { recursive: true });
  const expected = new Map<string, string>();
  const put = (name: string, bytes: Uint8Array): void => {
    writeFileSync(`${folder}/${name}`, bytes);
    expected.set(name, "prepared");
  };
  for (const [name, path] of SOURCES) {
    const photo = readFileSync(path);
    for (const width of WIDTHS_PX) {
      for (const [ending, encode] of Object.entries(ENCODINGS)) {
        put(`${name}-${width}-${ending}`, await encode(sharp(photo).resize(width)).toBuffer());
      }
    }
  }
  for (let i = 0; i < PHONES; i++) {
    const photo = sharp(readFileSync(SOURCES[i][1])).resize({ ...PHONE, fit: "fill" });
    put(`phone-${i}.jpg`, await photo.jpeg({ quality: 92 }).toBuffer());
  }
  const large = sharp(readFileSync(SOURCES[0][1])).resize({ ...LARGE_PX, fit: "fill" });
  put("large.jpg", await large.jpeg({ quality: 90 }).toBuffer());
  put("logo.svg", readFileSync(fileURLToPath(new URL("../../../sample-images/logo.svg", import.meta.url))));

  const good = await sharp(photographPath("black-canyon")).resize(260).jpeg().toBuffer();
  putHostileUploads(folder, good);
  for (const name of Object.keys(oddUploads(good))) expected.set(name, "prepared");
  for (const [code, files] of Object.entries(refusedUploads(good))) {
    for (const name of Object.keys(files)) expected.set(name, code);
  }
  for (const [name, code] of Object.entries(notFiles)) expected.set(name, code);
  return expected;
}
