import { spawnSync } from "node:child_process";
import { type Bitmap, type Pitch, plane } from "../../../src/core/plane.js";
import { seededRandom } from "../../../src/core/random.js";
import { pitchMmFromLinesPerInch } from "../../../src/core/units.js";

/** 508 lines per inch along and 254 across: 20000 and 10000 pixels per metre (1 inch = 25.4 mm), 200 and 100 per cm. */
export const unequalPitch: Pitch = {
  alongMm: pitchMmFromLinesPerInch(508),
  acrossMm: pitchMmFromLinesPerInch(254),
};

/** A bitmap of independent random bits. */
export function randomBitmap(rows: number, columns: number, pitch: Pitch = unequalPitch): Bitmap {
  const random = seededRandom(rows * 65536 + columns);
  const bits = Uint8Array.from({ length: rows * columns }, () => (random() < 0.4 ? 1 : 0));
  return plane("bitmap", bits, rows, columns, pitch);
}

/** The grey values that a reader should see: 0 where burned, 255 elsewhere. */
export const greyValues = (bitmap: Bitmap): number[] =>
  Array.from(bitmap.pixels.data, (bit) => 255 * (1 - bit));

/** What a program answers when it is given `input` on standard input; both output streams, as bytes. */
export function answer(command: string, args: readonly string[], input: Uint8Array): Buffer {
  const { status, stdout, stderr } = spawnSync(command, args, { input, maxBuffer: 1 << 26 });
  if (status !== 0) throw new Error(`${command} fails: ${stderr}${stdout}`);
  return stdout;
}
