import type { Photo } from "../1-photo/decode.js";
import { type Frame, frameJob } from "../3-resample/frame.js";
import { SpotpitchError } from "../core/errors.js";
import { MOST_PIXELS, type ResolvedOptions } from "../core/options.js";
import { columnsOf, rowsOf } from "../core/plane.js";
import { mayBeSolid } from "./settle-kind.js";

/** Throws `OPTION_TOO_LARGE`. */
export function frameOf(source: Photo, options: ResolvedOptions): Frame {
  const sourceColumns = columnsOf(source.luminance);
  const sourceRows = rowsOf(source.luminance);
  const frame = frameJob({
    sourceColumns,
    sourceRows,
    ...sizeAsked(sourceColumns, sourceRows, options),
    fit: options.fit,
    pitch: options.pitch,
  });
  if (frame.columns * frame.rows > MOST_PIXELS) {
    throw new SpotpitchError(
      "OPTION_TOO_LARGE",
      `This size at this density makes ${frame.columns} × ${frame.rows} pixels; at most ${MOST_PIXELS / 1e6} million are handled. Choose a lower density or a smaller piece.`,
      { option: "linesPerInch" },
    );
  }
  return frame;
}

/** Longer side of a piece whose size nobody gave, in mm. */
const DEFAULT_LONGER_SIDE_MM = 100;

function sizeAsked(sourceColumns: number, sourceRows: number, { widthMm, heightMm }: ResolvedOptions) {
  if (widthMm !== undefined || heightMm !== undefined) return { widthMm, heightMm };
  return sourceColumns >= sourceRows
    ? { widthMm: DEFAULT_LONGER_SIDE_MM }
    : { heightMm: DEFAULT_LONGER_SIDE_MM };
}

/** Pixels from which a second thread saves more than it takes to start. */
const WORTH_A_THREAD_PX = { bitmapOnly: 8e6, predicted: 1e6 } as const;

/** By the size asked for, before the photo is known: a side that nobody gave is taken to be as long as the other. */
function piecePx({ widthMm, heightMm, pitch }: ResolvedOptions): number {
  const across = heightMm ?? widthMm ?? DEFAULT_LONGER_SIDE_MM;
  const along = widthMm ?? heightMm ?? DEFAULT_LONGER_SIDE_MM;
  return (along / pitch.alongMm) * (across / pitch.acrossMm);
}

export function worthAThread(options: ResolvedOptions): boolean {
  return piecePx(options) >= WORTH_A_THREAD_PX[options.bitmapOnly ? "bitmapOnly" : "predicted"];
}

/**
 * A drawing whose edges are to be placed is rendered so many times finer than the grid, up to so many pixels. Larger ones
 * would fill memory, and rendered at the grid itself still keep their widths to a quarter of the pitch.
 */
const FINER = 2;
const MOST_FINER_PX = 20e6;

/** How large a drawing without pixels of its own should be rendered. */
export function decodeHints(options: ResolvedOptions, { fileName }: { readonly fileName?: string }) {
  const { widthMm, heightMm } = options;
  const finer = mayBeSolid(options) && piecePx(options) * FINER ** 2 <= MOST_FINER_PX ? FINER : 1;
  const pitch = { alongMm: options.pitch.alongMm / finer, acrossMm: options.pitch.acrossMm / finer };
  const asked = widthMm === undefined && heightMm === undefined ? DEFAULT_LONGER_SIDE_MM : undefined;
  const columnsMm = widthMm ?? asked;
  const rowsMm = heightMm ?? asked;
  return {
    ...(fileName === undefined ? {} : { fileName }),
    ...(columnsMm === undefined ? {} : { minimumColumns: Math.ceil(columnsMm / pitch.alongMm) }),
    ...(rowsMm === undefined ? {} : { minimumRows: Math.ceil(rowsMm / pitch.acrossMm) }),
  };
}
