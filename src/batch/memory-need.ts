import type { PhotoFacts } from "../1-photo/photo.js";
import type { ResolvedOptions } from "../options/options.js";
import { DRAWING_OVERSAMPLING, sizeAsked } from "../pipeline/photo/piece-size.js";

/** Measured memory of a worker process that has prepared a small photo. */
const PROCESS_BYTES = 220e6;
/** Decoded light and opacity at 16 bits each, and the decoder's own memory (see `MAX_PHOTO_PIXELS`). */
const BYTES_PER_PIXEL = 11;
/** Bitmap, preview and the queues of their encoders. */
const BYTES_PER_PIECE_PIXEL = 1;

/** An upper estimate of the memory to prepare an upload, in bytes, from its declared facts and the size in the options. */
export function jobMemoryNeed({ format, columns, rows }: PhotoFacts, options: ResolvedOptions): number {
  const { pitch } = options;
  const { widthMm, heightMm } = sizeAsked(columns, rows, options);
  const along = widthMm ?? (heightMm ?? 0) * (columns / rows);
  const across = heightMm ?? along * (rows / columns);
  const piecePixels = (along / pitch.alongMm) * (across / pitch.acrossMm);
  const photoPixels = format === "svg" ? DRAWING_OVERSAMPLING ** 2 * piecePixels : columns * rows;
  return PROCESS_BYTES + BYTES_PER_PIXEL * photoPixels + BYTES_PER_PIECE_PIXEL * piecePixels;
}
