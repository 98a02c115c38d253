import type { PhotoFacts } from "../1-photo/photo.js";
import type { ResolvedOptions } from "../options/options.js";
import { mostCaptionMm } from "../pipeline/photo/caption.js";
import { DRAWING_OVERSAMPLING, sizeAsked } from "../pipeline/photo/piece-size.js";

/** Memory of a worker process that has prepared several small photos: 250 MB were measured. */
export const PROCESS_BYTES = 300e6;
/** What a worker must be able to add for its jobs, or fewer run: a JPEG of 12 megapixels. */
const LEAST_JOB_BYTES = 100e6;
/** Rendered light and opacity of a drawing, at 16 bits each, and the renderer's own rows. */
const BYTES_PER_DRAWN_PIXEL = 8;
/** Bitmap, preview and the queues of their encoders. */
const BYTES_PER_PIECE_PIXEL = 1;

/** Of a search: levels before and after a pass, wanted luminance and what may change; and its tile with all around it. */
const BYTES_PER_SEARCHED_PIXEL = 5;
const SEARCH_BYTES = 150e6;

/** As many of the wanted workers as the memory is enough for. */
export const workersWithin = (memoryBytes: number, wanted: number): number =>
  Math.max(1, Math.min(wanted, Math.floor(memoryBytes / (PROCESS_BYTES + LEAST_JOB_BYTES))));

/**
 * An upper estimate of the memory that a worker adds to prepare an upload, in bytes, from its declared facts and the size in the
 * options.
 */
export function jobMemoryNeed(facts: PhotoFacts, options: ResolvedOptions): number {
  const { format, columns, rows, decodingBytes } = facts;
  const { pitch } = options;
  const { widthMm, heightMm } = sizeAsked(columns, rows, options);
  const along = widthMm ?? (heightMm ?? 0) * (columns / rows);
  const across = heightMm ?? along * (rows / columns);
  const picturePixels = (along / pitch.alongMm) * (across / pitch.acrossMm);
  const captionPixels = (along / pitch.alongMm) * (mostCaptionMm(options) / pitch.acrossMm);
  const drawnPixels = format === "svg" ? DRAWING_OVERSAMPLING ** 2 * picturePixels : 0;
  const piecePixels = picturePixels + captionPixels;
  const isSearched = options.method === "burn-search" && options.kind !== "solid";
  const searchBytes = isSearched ? SEARCH_BYTES + BYTES_PER_SEARCHED_PIXEL * piecePixels : 0;
  return (
    searchBytes + decodingBytes + BYTES_PER_DRAWN_PIXEL * drawnPixels + BYTES_PER_PIECE_PIXEL * piecePixels
  );
}
