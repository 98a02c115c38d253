import type { Photo } from "../1-photo/decode.js";
import { type Frame, frameJob } from "../3-resample/frame.js";
import { frameOnSheet } from "../3-resample/sheet.js";
import { SpotpitchError } from "../core/errors.js";
import { MOST_PIXELS, type ResolvedOptions } from "../core/options.js";
import { columnsOf, rowsOf } from "../core/plane.js";
import { checkSlant, isCone } from "../core/wrap.js";

/** Throws `OPTION_TOO_LARGE`. */
export function frameOf(source: Photo, options: ResolvedOptions): Frame {
  const sourceColumns = columnsOf(source.luminance);
  const sourceRows = rowsOf(source.luminance);
  const { fit, pitch, wrap } = options;
  const request = {
    sourceColumns,
    sourceRows,
    ...sizeAsked(sourceColumns, sourceRows, options),
    fit,
    pitch,
    closed: wrap !== undefined,
  };
  const frame =
    wrap && isCone(wrap) && wrap.layout === "flat" ? frameOnSheet(request, wrap) : frameJob(request);
  if (wrap && isCone(wrap)) checkSlant(wrap, frame.heightMm);
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
export function worthAThread({ widthMm, heightMm, pitch, bitmapOnly }: ResolvedOptions): boolean {
  const across = heightMm ?? widthMm ?? DEFAULT_LONGER_SIDE_MM;
  const along = widthMm ?? heightMm ?? DEFAULT_LONGER_SIDE_MM;
  const pixels = (along / pitch.alongMm) * (across / pitch.acrossMm);
  return pixels >= WORTH_A_THREAD_PX[bitmapOnly ? "bitmapOnly" : "predicted"];
}

/** How large a drawing without pixels of its own should be rendered. */
export function decodeHints(
  { widthMm, heightMm, pitch }: ResolvedOptions,
  { fileName }: { readonly fileName?: string },
) {
  const asked = widthMm === undefined && heightMm === undefined ? DEFAULT_LONGER_SIDE_MM : undefined;
  const columnsMm = widthMm ?? asked;
  const rowsMm = heightMm ?? asked;
  return {
    ...(fileName === undefined ? {} : { fileName }),
    ...(columnsMm === undefined ? {} : { minimumColumns: Math.ceil(columnsMm / pitch.alongMm) }),
    ...(rowsMm === undefined ? {} : { minimumRows: Math.ceil(rowsMm / pitch.acrossMm) }),
  };
}
