import type { SpotpitchError } from "../../core/errors.js";
import { bytesPerRow, type PackedBitmap } from "../../core/packed-bits.js";
import type { Pitch } from "../../core/plane.js";
import { levelGreys } from "../../core/power-levels.js";
import { refusal } from "../../core/refusals/refusals.js";
import { type BitmapShape, checkShape } from "./bitmap-shape.js";
import { type BitmapTexture, type ByteSink, createDeflateWriter } from "./deflate.js";
import { pngChunk, pngChunkPieces, pngDensity, pngHeader, pngSignature } from "./png-chunks.js";

/*
 * Why not a library: sharp writes one bit only with a colour palette, and one density for both directions; pngjs writes
 * eight bits and no density.
 */

/**
 * Receives rows of a bitmap as in `core/packed-bits.ts`, top to bottom, any number at a time. It does not keep the whole bitmap.
 */
export interface BitmapWriter {
  readonly write: (packed: Uint8Array, count: number) => Promise<void>;
  /** Throws `INTERNAL` if rows are missing. */
  readonly end: () => Promise<void>;
}

/**
 * A greyscale PNG with 1 bit per pixel at 2 power levels and 8 bits at more. Black is full power, white is none. Both densities are
 * in whole pixels per metre.
 * Throws `INTERNAL` if the bitmap has no pixels, or if it gets more rows than its shape has.
 */
export async function createPngWriter(
  shape: BitmapShape,
  texture: BitmapTexture,
  sink: ByteSink,
): Promise<BitmapWriter> {
  checkShape(shape);
  const { columns, rows, levels, pitch } = shape;
  const stride = bytesPerRow(columns, levels);
  const lastByte = 0xff00 >> (((columns - 1) % 8) + 1);
  const greys = levelGreys(levels);
  /** Greys of the row above. */
  const above = new Uint8Array(levels > 2 ? columns : 0);
  await sink(pngSignature());
  await sink(pngHeader(columns, rows, levels === 2 ? 1 : 8));
  await sink(pngDensity(pitch));
  const deflate = createDeflateWriter(texture, async (bytes) => {
    for (const piece of pngChunkPieces("IDAT", bytes)) await sink(piece);
  });
  let scanlines = new Uint8Array(0);
  let written = 0;

  return {
    async write(packed, count) {
      written += count;
      if (written > rows) throw wrongRows(shape);
      if (scanlines.length < count * (stride + 1)) scanlines = new Uint8Array(count * (stride + 1));
      for (let y = 0, from = 0, to = 0; y < count; y++) {
        if (levels > 2) {
          scanlines[to++] = 2; // filter type: up, which makes a file of 256 levels smaller by half and one of 16 by a sixth
          for (let x = 0; x < stride; x++) {
            const grey = greys[packed[from++]];
            scanlines[to++] = grey - above[x];
            above[x] = grey;
          }
          continue;
        }
        scanlines[to++] = 0; // filter type: none, because bits cannot be predicted from their neighbours
        for (const end = from + stride; from < end; ) scanlines[to++] = ~packed[from++];
        scanlines[to - 1] &= lastByte;
      }
      await deflate.write(scanlines.subarray(0, count * (stride + 1)));
    },
    async end() {
      if (written !== rows) throw wrongRows(shape);
      await deflate.end();
      await sink(pngChunk("IEND"));
    },
  };
}

/** The same file of a whole bitmap. */
export async function encodeBitmapPng(
  bitmap: PackedBitmap,
  pitch: Pitch,
  texture: BitmapTexture = "noise",
): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  const { columns, rows, levels, bytes } = bitmap;
  const writer = await createPngWriter({ columns, rows, levels, pitch }, texture, (piece) => {
    pieces.push(piece);
  });
  await writer.write(bytes, rows);
  await writer.end();
  return Buffer.concat(pieces);
}

function wrongRows({ columns, rows }: BitmapShape): SpotpitchError {
  return refusal("bitmap-rows", { rows, columns });
}
