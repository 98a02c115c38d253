import type { PhotoFacts } from "../1-photo/photo.js";
import type { ResolvedOptions } from "../options/options.js";
import { DEFAULT_LONGER_SIDE_MM } from "../options/table/size.js";

/** What an upload may ask of the computer. */
export interface UploadLimits {
  /** Pixels that a picture may declare. */
  readonly maxPixels: number;
  /** Bytes of a file. */
  readonly mostBytes: number;
  /** Seconds that one upload may take. */
  readonly mostSeconds: number;
}

/** A 108-megapixel phone picture passes; a decoder then holds some 2 GB at most. */
export const defaultLimits: UploadLimits = { maxPixels: 150e6, mostBytes: 200e6, mostSeconds: 600 };

/** Measured: what a worker process holds that has prepared a small photo. */
const PROCESS_BYTES = 220e6;
/** Decoded light and opacity at 16 bits each, and what the decoder needs meanwhile (see `maximumPixels`). */
const BYTES_PER_PIXEL = 11;
/** Bitmap, preview and the queues of their encoders. */
const BYTES_PER_PIECE_PIXEL = 1;

/** Memory that preparing a photo takes, about, in bytes: for sharing memory out, an upper estimate. */
export const memoryNeed = (photoPixels: number, piecePixels: number): number =>
  PROCESS_BYTES + BYTES_PER_PIXEL * photoPixels + BYTES_PER_PIECE_PIXEL * piecePixels;

/** A drawing may be rendered twice as fine as the grid. */
const DRAWN_FINER = 4;

/** `memoryNeed` of a job, from what the file declares and the size that is asked for. */
export function jobMemoryNeed({ format, columns, rows }: PhotoFacts, options: ResolvedOptions): number {
  const { widthMm, heightMm, pitch } = options;
  const shape = columns / rows;
  const longer = shape >= 1 ? DEFAULT_LONGER_SIDE_MM : DEFAULT_LONGER_SIDE_MM * shape;
  const along = widthMm ?? (heightMm === undefined ? longer : heightMm * shape);
  const across = heightMm ?? along / shape;
  const piece = (along / pitch.alongMm) * (across / pitch.acrossMm);
  return memoryNeed(format === "svg" ? DRAWN_FINER * piece : columns * rows, piece);
}
