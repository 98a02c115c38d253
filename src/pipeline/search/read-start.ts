import sharp from "sharp";
import type { PackedBitmap } from "../../core/packed-bits.js";
import { levelGreys } from "../../core/power-levels.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { ResolvedOptions } from "../../options/options.js";

/**
 * Power levels of a bitmap file of a piece, one byte per pixel: black is full power. Throws `INPUT_BITMAP_UNFIT` if it cannot be read,
 * has another size, or has greys that are no power level of the piece.
 */
export async function readStart(
  start: NonNullable<ResolvedOptions["startBitmap"]>,
  { columns, rows, levels }: Pick<PackedBitmap, "columns" | "rows" | "levels">,
): Promise<Uint8Array> {
  const { bytes, fileName } = start instanceof Uint8Array ? { bytes: start, fileName: undefined } : start;
  const unfit = (why: string, cause?: unknown) =>
    refusal("start-bitmap-unfit", { fileName, why, columns, rows, levels }, { cause });
  const unreadable = (cause: unknown): never => {
    throw unfit("it is no PNG or TIFF that can be read", cause);
  };
  const picture = sharp(bytes, { limitInputPixels: false });
  const { width, height, format } = await picture.metadata().catch(unreadable);
  if (format !== "png" && format !== "tiff") throw unfit("it is no PNG or TIFF that can be read");
  // Before it is decoded: a small file may declare any size.
  if (width !== columns || height !== rows) throw unfit(`it has ${width} × ${height} pixels`);
  const levels8 = picture.flatten({ background: "white" }).greyscale().raw();
  const data = await levels8.toBuffer().catch(unreadable);
  const levelOf = new Int16Array(256).fill(-1);
  for (const [level, grey] of levelGreys(levels).entries()) levelOf[grey] = level;
  return Uint8Array.from(data, (grey) => {
    if (levelOf[grey] < 0) throw unfit(`it has a grey of ${grey}, which is no power level here`);
    return levelOf[grey];
  });
}
