import type { PhotoFacts } from "../1-photo/photo.js";
import type { ResolvedOptions } from "../options/options.js";
import { DRAWING_OVERSAMPLING, sizeAsked } from "../pipeline/photo/piece-size.js";

/** Measured: what a worker process holds after it has prepared a small photo. */
const PROCESS_BYTES = 220e6;
/** Decoded light and opacity at 16 bits each, and what the decoder needs meanwhile (see `MAX_PHOTO_PIXELS`). */
const BYTES_PER_PIXEL = 11;
/** Bitmap, preview and the queues of their encoders. */
const BYTES_PER_PIECE_PIXEL = 1;

/** Memory that preparing a photo takes, in bytes: an upper estimate, by which memory is shared out. */
export const memoryNeed = (photoPixels: number, piecePixels: number): number =>
  PROCESS_BYTES + BYTES_PER_PIXEL * photoPixels + BYTES_PER_PIECE_PIXEL * piecePixels;

/** `memoryNeed` of a job, from what the file declares and the size that is asked for. */
export function jobMemoryNeed({ format, columns, rows }: PhotoFacts, options: ResolvedOptions): number {
  const { pitch } = options;
  const { widthMm, heightMm } = sizeAsked(columns, rows, options);
  const along = widthMm ?? (heightMm ?? 0) * (columns / rows);
  const across = heightMm ?? along * (rows / columns);
  const piecePixels = (along / pitch.alongMm) * (across / pitch.acrossMm);
  return memoryNeed(format === "svg" ? DRAWING_OVERSAMPLING ** 2 * piecePixels : columns * rows, piecePixels);
}
