import type { Frame } from "../../3-resample/frame.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { encodePackedBitmap } from "../../6-report/files/bitmap-file.js";
import type { BitmapWriter } from "../../6-report/files/bitmap-png.js";
import type { BitmapTexture, ByteSink } from "../../6-report/files/deflate.js";
import { bytesPerRow, type PackedBitmap } from "../../core/packed-bits.js";
import type { ResolvedOptions } from "../../options/options.js";

/** Receives the rows of a bitmap. It writes the file, and keeps the bitmap if it is still needed. */
export interface BitmapOutput extends BitmapWriter {
  /** The whole bitmap, if it was kept. */
  readonly bitmap: () => PackedBitmap | undefined;
}

/** Methods that compare with a tile, so their dots repeat. */
const TILED: readonly HalftoneMethod["family"][] = ["ordered dither", "blue noise", "clustered dot"];

/** How a method's dots compress. */
export const textureOf = ({ family }: HalftoneMethod): BitmapTexture =>
  TILED.includes(family) ? "repeating" : "noise";

/** A PNG is written row by row. The other formats need the whole bitmap. Without a sink there is no file. */
export async function createBitmapOutput(
  { columns, rows }: Frame,
  method: HalftoneMethod,
  { format, pitch, levels }: ResolvedOptions,
  { keep, sink }: { readonly keep: boolean; readonly sink?: ByteSink | undefined },
): Promise<BitmapOutput> {
  const stride = bytesPerRow(columns, levels);
  // Shared, because another thread may read it.
  const kept =
    keep || (sink && format !== "png") ? new Uint8Array(new SharedArrayBuffer(stride * rows)) : undefined;
  const bitmap: PackedBitmap | undefined = kept && { columns, rows, levels, stride, bytes: kept };
  let filled = 0;
  const file =
    sink && format === "png"
      ? await (await import("../../6-report/files/bitmap-png.js")).createPngWriter(
          { columns, rows, levels, pitch },
          textureOf(method),
          sink,
        )
      : undefined;
  return {
    bitmap: () => bitmap,
    async write(packed, count) {
      kept?.set(packed.subarray(0, count * stride), filled);
      filled += count * stride;
      await file?.write(packed, count);
    },
    async end() {
      await file?.end();
      if (sink && bitmap && format !== "png") await sink(await encodePackedBitmap(bitmap, pitch, format));
    },
  };
}
