import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { photographPath } from "../pipeline/photograph.js";

const sample = (name: string): string =>
  fileURLToPath(new URL(`../../sample-images/${name}.jpg`, import.meta.url));

/** Photographs, in good order as they are. Thresholds were set on the first set only. */
export const pictures = {
  setting: [
    photographPath("nagasaki-boats"),
    photographPath("black-canyon"),
    photographPath("acanthus-mollis"),
    sample("harbour"),
  ],
  counting: [
    photographPath("allium-oreophilum"),
    photographPath("airplane-from-above"),
    photographPath("french-alpine-landscape"),
    photographPath("locomotion-house-cat"),
    sample("lighthouse"),
    sample("portrait"),
    sample("dog-on-quay"),
    sample("nets"),
  ],
} as const;

export const WIDTH_PX = 1000;

/** The pixels are the same however hard a PNG is pressed. */
const QUICK = { compressionLevel: 0 } as const;

const originals = new Map<string, Promise<Buffer>>();

/** All have one size, so that amounts of blur and other defects are comparable. */
export function original(path: string): Promise<Buffer> {
  const made = originals.get(path) ?? resized(path);
  originals.set(path, made);
  return made;
}

const resized = async (path: string): Promise<Buffer> =>
  sharp(await readFile(path))
    .resize(WIDTH_PX)
    .png(QUICK)
    .toBuffer();

/** Gaussian blur of a known spread. */
export const blurred = async (path: string, sigmaPx: number): Promise<Buffer> =>
  sharp(await original(path))
    .blur(sigmaPx)
    .png(QUICK)
    .toBuffer();

export const compressed = async (path: string, quality: number): Promise<Buffer> =>
  sharp(await original(path))
    .jpeg({ quality, chromaSubsampling: "4:2:0" })
    .toBuffer();

export const shrunk = async (path: string, columns: number): Promise<Buffer> =>
  sharp(await original(path))
    .resize(columns)
    .png(QUICK)
    .toBuffer();

/** So many times brighter or darker in code values, cut off at the ends. */
export const clipped = async (path: string, factor: number, offset: number): Promise<Buffer> =>
  sharp(await original(path))
    .linear(factor, offset)
    .png(QUICK)
    .toBuffer();

/** Contrast reduced by this factor around the middle. */
export const faint = async (path: string, factor: number): Promise<Buffer> =>
  sharp(await original(path))
    .linear(factor, 128 * (1 - factor))
    .png(QUICK)
    .toBuffer();

/** Black and white dots by chance at the threshold of a fixed pattern (Bayer 4 × 4). */
export async function dotted(path: string): Promise<Buffer> {
  const { data, info } = await sharp(await original(path))
    .greyscale()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const pattern = [0, 8, 2, 10, 12, 4, 14, 6, 3, 11, 1, 9, 15, 7, 13, 5];
  const { width, height, channels } = info;
  const bits = Buffer.alloc(width * height);
  for (let i = 0; i < bits.length; i++) {
    const threshold = 16 * pattern[4 * (Math.floor(i / width) % 4) + ((i % width) % 4)] + 8;
    bits[i] = data[i * channels] > threshold ? 255 : 0;
  }
  return sharp(bits, { raw: { width, height, channels: 1 } })
    .png(QUICK)
    .toBuffer();
}
