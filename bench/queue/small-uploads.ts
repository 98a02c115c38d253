import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { seededRandom } from "../../src/core/random.js";
import { root } from "../job.js";

const PICTURES = ["harbour", "lighthouse", "nets", "dog-on-quay", "portrait"] as const;
const SMALLEST_PX = 160;
const LARGEST_PX = 420;
/** One of so many cannot be used. */
const ONE_BAD_IN = 50;

/** Fills a folder with small pictures, all different, and some files that are none. */
export async function makeSmallUploads(folder: string, count: number): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const random = seededRandom(19);
  for (let i = 0; i < count; i++) {
    const name = join(folder, `order-${String(i).padStart(4, "0")}.jpg`);
    if (i % ONE_BAD_IN === ONE_BAD_IN - 1) {
      writeFileSync(name, "Dear harbour workshop, here is my picture.");
      continue;
    }
    const picture = join(root, `sample-images/${PICTURES[i % PICTURES.length]}.jpg`);
    const width = Math.round(SMALLEST_PX + (LARGEST_PX - SMALLEST_PX) * random());
    const bytes = await sharp(picture)
      .resize(width)
      .jpeg({ quality: 60 + (i % 35) })
      .toBuffer();
    writeFileSync(name, bytes);
  }
}
