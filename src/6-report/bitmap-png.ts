import { pipeline } from "node:stream";
import { createDeflate } from "node:zlib";
import { SpotpitchError } from "../core/errors.js";
import { bytesPerPackedRow, packRow } from "../core/packed-bits.js";
import { type Bitmap, denseData } from "../core/plane.js";
import { type BitmapShape, shapeOf } from "./bitmap-shape.js";
import { pngChunk, pngDensity, pngHeader, pngSignature } from "./png-chunks.js";

/*
 * Why not a library: sharp writes one bit only with a colour palette, and one density for both directions; pngjs writes
 * eight bits and no density.
 *
 * Why level 3: time (ms) and size (MB) of 8000 × 6000 pixels, a photo of boats, Node 20 on one core. Runs alone
 * (Z_RLE) are best for diffused error but miss the repeats of a blue-noise tile; level 6 is slow where there are none.
 *
 *                       Z_RLE       level 1     level 3     level 6     level 9
 *   Floyd–Steinberg    37  3.68    85  3.84   104  3.79   209  3.71   460  3.70
 *   green noise        41  4.03   109  4.23   108  4.19   317  4.11   891  4.10
 *   blue-noise tile    34  4.24    42  1.93    46  1.85    74  1.68   105  1.68
 *   clustered dots     28  0.75    22  0.83    45  0.75   210  0.63  2206  0.60
 */
const DEFLATE = { level: 3, chunkSize: 1 << 16 };

/** Packed bytes given to deflate at a time. */
const STRIP_BYTES = 1 << 17;

/** Rows of 0/1, top to bottom, each of `columns` values. A row may be overwritten once the next is asked for. */
export type BitmapRows = Iterable<Uint8Array> | AsyncIterable<Uint8Array>;

/**
 * A 1-bit greyscale PNG, black where burned, that says both densities in whole pixels per metre.
 * Throws `INTERNAL` where the bitmap has no pixels or no pitch.
 */
export async function encodeBitmapPng(bitmap: Bitmap): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  for await (const piece of encodePngRows(rowsIn(bitmap), shapeOf(bitmap))) pieces.push(piece);
  return Buffer.concat(pieces);
}

/**
 * The same file piece by piece, from rows as they come: nothing larger than a strip is held.
 * Throws `INTERNAL` where the rows are not as the shape says.
 */
export async function* encodePngRows(rows: BitmapRows, shape: BitmapShape): AsyncGenerator<Uint8Array, void> {
  yield pngSignature();
  yield pngHeader(shape.columns, shape.rows);
  yield pngDensity(shape.pitch);
  // A failure of the rows destroys the deflate stream, and so reaches this loop: no callback needed.
  const compressed = pipeline(packedStrips(rows, shape), createDeflate(DEFLATE), () => {});
  for await (const data of compressed) yield pngChunk("IDAT", data);
  yield pngChunk("IEND");
}

function* rowsIn(bitmap: Bitmap): Generator<Uint8Array, void> {
  const bits = denseData(bitmap);
  const { columns } = shapeOf(bitmap);
  for (let from = 0; from < bits.length; from += columns) yield bits.subarray(from, from + columns);
}

/** Strips of packed rows, each row behind its filter type: 0, for bits are no numbers to predict from their neighbours. */
async function* packedStrips(rows: BitmapRows, shape: BitmapShape): AsyncGenerator<Uint8Array, void> {
  const stride = 1 + bytesPerPackedRow(shape.columns);
  const rowsPerStrip = Math.min(shape.rows, Math.ceil(STRIP_BYTES / stride));
  let strip = new Uint8Array(rowsPerStrip * stride);
  let count = 0;
  for await (const row of rows) {
    if (row.length !== shape.columns || count === shape.rows) throw wrongRows(shape);
    packRow(row, 0, shape.columns, strip, (count % rowsPerStrip) * stride + 1);
    if (++count % rowsPerStrip === 0) {
      yield strip;
      strip = new Uint8Array(rowsPerStrip * stride); // deflate may still be reading the last one
    }
  }
  if (count !== shape.rows) throw wrongRows(shape);
  yield strip.subarray(0, (count % rowsPerStrip) * stride);
}

function wrongRows({ columns, rows }: BitmapShape): SpotpitchError {
  return new SpotpitchError("INTERNAL", `The bitmap's rows are not ${rows} of ${columns} pixels.`);
}
