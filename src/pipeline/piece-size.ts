import type { Photo } from "../1-photo/decode.js";
import { cropRectangle, focusWithin } from "../3-resample/crop.js";
import { type Frame, frameJob } from "../3-resample/frame.js";
import { SpotpitchError } from "../core/errors.js";
import { MOST_PIXELS, type ResolvedOptions } from "../core/options.js";
import { columnsOf, rowsOf } from "../core/plane.js";
import { checkOutline } from "./picture-outline.js";

/**
 * The frame of a job. Its window counts from the corner of the part that is kept of the photo (see `shownPhoto`).
 * Throws `OPTION_TOO_LARGE`, `OPTION_OUTSIDE_PHOTO`, `OPTION_CONFLICT`.
 */
export function frameOf(source: Photo, options: ResolvedOptions): Frame {
  const photoColumns = columnsOf(source.luminance);
  const photoRows = rowsOf(source.luminance);
  if (source.format === "svg") checkDrawingPlaces(options);
  const kept = cropRectangle(options.crop, photoColumns, photoRows);
  const { columns: sourceColumns, rows: sourceRows } = kept;
  const frame = frameJob({
    sourceColumns,
    sourceRows,
    ...sizeAsked(sourceColumns, sourceRows, options),
    fit: options.fit,
    focus: focusWithin(options.focus, kept, photoColumns, photoRows),
    pitch: options.pitch,
  });
  if (frame.columns * frame.rows > MOST_PIXELS) {
    throw new SpotpitchError(
      "OPTION_TOO_LARGE",
      `This size at this density makes ${frame.columns} × ${frame.rows} pixels; at most ${MOST_PIXELS / 1e6} million are handled. Choose a lower density or a smaller piece.`,
      { option: "linesPerInch" },
    );
  }
  checkOutline(frame, options);
  return frame;
}

function checkDrawingPlaces({ crop, focus }: ResolvedOptions): void {
  const option = crop && "leftPx" in crop ? "crop" : focus && "xPx" in focus ? "focus" : undefined;
  if (option === undefined) return;
  throw new SpotpitchError(
    "OPTION_CONFLICT",
    `${option} in pixels means nothing to a drawing (SVG), which is rendered as large as the piece wants it. Give it in percent.`,
    { option, allowed: "percent" },
  );
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

/** How large a drawing without pixels of its own should be rendered, for the part that is kept of it to be as fine as the grid. */
export function decodeHints(
  { widthMm, heightMm, pitch, crop }: ResolvedOptions,
  { fileName }: { readonly fileName?: string },
) {
  const asked = widthMm === undefined && heightMm === undefined ? DEFAULT_LONGER_SIDE_MM : undefined;
  const columnsMm = widthMm ?? asked;
  const rowsMm = heightMm ?? asked;
  const [along, across] =
    crop && "widthPercent" in crop ? [crop.widthPercent / 100, crop.heightPercent / 100] : [1, 1];
  return {
    ...(fileName === undefined ? {} : { fileName }),
    ...(columnsMm === undefined ? {} : { minimumColumns: Math.ceil(columnsMm / pitch.alongMm / along) }),
    ...(rowsMm === undefined ? {} : { minimumRows: Math.ceil(rowsMm / pitch.acrossMm / across) }),
  };
}
