import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp, { type Sharp } from "sharp";
import { makeHostileUploads, type Wanted } from "../tests/cli/batch/hostile-uploads.js";
import { photographPath } from "../tests/pipeline/photograph.js";

const PHOTOGRAPHS = [
  ...["nagasaki-boats", "black-canyon", "acanthus-mollis", "allium-oreophilum", "airplane-from-above"],
  ...["french-alpine-landscape", "locomotion-house-cat"],
] as const;

/** Encodings of uploads. */
const ENCODINGS: readonly (readonly [ending: string, encode: (image: Sharp) => Sharp])[] = [
  ["q92.jpg", (image) => image.jpeg({ quality: 92 })],
  ["q60.jpg", (image) => image.jpeg({ quality: 60, progressive: true })],
  ["turned.jpg", (image) => image.withMetadata({ orientation: 6 }).jpeg()],
  ["grey.jpg", (image) => image.greyscale().jpeg()],
  ["cmyk.jpg", (image) => image.toColourspace("cmyk").jpeg()],
  ["plain.png", (image) => image.png({ compressionLevel: 3 })],
  ["16-bit.png", (image) => image.toColourspace("rgb16").png({ compressionLevel: 1 })],
  ["palette.png", (image) => image.png({ palette: true, effort: 1 })],
  ["alpha.png", (image) => image.ensureAlpha(0.8).png({ compressionLevel: 3 })],
  ["lossy.webp", (image) => image.webp({ effort: 1 })],
  ["whole.webp", (image) => image.webp({ lossless: true, effort: 0 })],
  ["lzw.tiff", (image) => image.tiff({ compression: "lzw" })],
  ["tiles.tiff", (image) => image.tiff({ tile: true, compression: "none" })],
  ["small.avif", (image) => image.avif({ effort: 0 })],
  ["moving.gif", (image) => image.gif({ effort: 1 })],
];

/** Widths in pixels: a thumbnail from a messenger up to a good camera. */
const WIDTHS = [320, 1000, 2400, 4032] as const;
/** One large file, of the size of a phone photo. */
const LARGEST_PX = 10_000;

/**
 * Fills a folder with uploads: photographs in all encodings and sizes, a drawing, one picture of 100 megapixels, and all hostile
 * files. Returns the expected result of each.
 */
export async function makePile(folder: string, count: number): Promise<Map<string, Wanted>> {
  mkdirSync(folder, { recursive: true });
  const wanted = await makeHostileUploads(folder);
  const put = (name: string, bytes: Uint8Array): void => {
    writeFileSync(join(folder, name), bytes);
    wanted.set(name, "prepared");
  };
  put("logo.svg", readFileSync(fileURLToPath(new URL("../sample-images/logo.svg", import.meta.url))));
  const large = sharp(photographPath("nagasaki-boats"), { limitInputPixels: false });
  put(
    "largest.jpg",
    await large.resize(LARGEST_PX, LARGEST_PX, { fit: "cover" }).jpeg({ quality: 50 }).toBuffer(),
  );
  for (let i = 0; wanted.size < count; i++) {
    const [ending, encode] = ENCODINGS[i % ENCODINGS.length];
    // Slow encodings stay small. Otherwise making the pile would take longer than preparing it.
    const width = WIDTHS[Math.floor(i / ENCODINGS.length) % (/jpg/.test(ending) ? 4 : 2)];
    const image = sharp(photographPath(PHOTOGRAPHS[i % PHOTOGRAPHS.length])).resize(width);
    put(`${String(i).padStart(3, "0")}-${width}-${ending}`, await encode(image).toBuffer());
  }
  return wanted;
}
