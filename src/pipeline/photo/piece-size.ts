import type { Photo, PhotoFacts } from "../../1-photo/decode.js";
import { cropRectangle, focusWithin } from "../../3-resample/crop.js";
import { type Frame, frameJob } from "../../3-resample/frame.js";
import { frameOnSheet } from "../../3-resample/sheet.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";
import { checkSlant, isCone } from "../../core/wrap.js";
import { MAX_PIXELS, type ResolvedOptions } from "../../options/options.js";
import { DEFAULT_LONGER_SIDE_MM } from "../../options/table/size.js";
import { checkOutline } from "./picture-outline.js";
import { mayBeSolid } from "./settle-kind.js";

/**
 * The frame of a job. Its window counts from the corner of the part that is kept of the photo (see `engravedPart`).
 * Throws `OPTION_TOO_LARGE`, `OPTION_OUTSIDE_PHOTO`, `OPTION_CONFLICT`.
 */
export function frameOf({ format, luminance }: Photo, options: ResolvedOptions): Frame {
  return checkedFrame({ format, columns: columnsOf(luminance), rows: rowsOf(luminance) }, options);
}

/** Throw what `frameOf` will, as soon as the photo's size is known; a drawing's is only once it has been rendered. */
export function checkPlaces(facts: PhotoFacts, options: ResolvedOptions): void {
  if (facts.format === "svg") checkDrawingPlaces(options);
  else checkedFrame(facts, options);
}

function checkedFrame(facts: PhotoFacts, options: ResolvedOptions): Frame {
  const { format, columns: photoColumns, rows: photoRows } = facts;
  if (format === "svg") checkDrawingPlaces(options);
  const kept = cropRectangle(options.crop, photoColumns, photoRows);
  const { columns: sourceColumns, rows: sourceRows } = kept;
  const { fit, pitch, wrap } = options;
  const request = {
    sourceColumns,
    sourceRows,
    ...sizeAsked(sourceColumns, sourceRows, options),
    fit,
    pitch,
    focus: focusWithin(options.focus, kept, photoColumns, photoRows),
    closed: wrap !== undefined,
  };
  const frame =
    wrap && isCone(wrap) && wrap.layout === "flat" ? frameOnSheet(request, wrap) : frameJob(request);
  if (wrap && isCone(wrap)) checkSlant(wrap, frame.heightMm);
  if (frame.columns * frame.rows > MAX_PIXELS) {
    throw refusal("too-many-pixels", { columns: frame.columns, rows: frame.rows, maxPixels: MAX_PIXELS });
  }
  checkOutline(frame, options);
  return frame;
}

function checkDrawingPlaces({ crop, focus }: ResolvedOptions): void {
  const option = crop && "leftPx" in crop ? "crop" : focus && "xPx" in focus ? "focus" : undefined;
  if (option === undefined) return;
  throw refusal("drawing-in-pixels", { option }, { allowed: "percent" });
}

/** Width or height as asked, or both; the other follows from the photo. */
export function sizeAsked(
  sourceColumns: number,
  sourceRows: number,
  { widthMm, heightMm }: ResolvedOptions,
): { widthMm?: number | undefined; heightMm?: number | undefined } {
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
export const DRAWING_OVERSAMPLING = 2;
const MOST_FINER_PX = 20e6;

/** How large a drawing without pixels of its own should be rendered, for the part that is kept of it to be as fine as the grid. */
export function decodeHints(options: ResolvedOptions, fileName?: string) {
  const { widthMm, heightMm, crop } = options;
  const finer =
    mayBeSolid(options) && piecePx(options) * DRAWING_OVERSAMPLING ** 2 <= MOST_FINER_PX
      ? DRAWING_OVERSAMPLING
      : 1;
  const pitch = { alongMm: options.pitch.alongMm / finer, acrossMm: options.pitch.acrossMm / finer };
  const asked = widthMm === undefined && heightMm === undefined ? DEFAULT_LONGER_SIDE_MM : undefined;
  const columnsMm = widthMm ?? asked;
  const rowsMm = heightMm ?? asked;
  const [along, across] =
    crop && "widthPercent" in crop ? [crop.widthPercent / 100, crop.heightPercent / 100] : [1, 1];
  return {
    ...(fileName === undefined ? {} : { fileName }),
    ...(columnsMm === undefined ? {} : { minColumns: Math.ceil(columnsMm / pitch.alongMm / along) }),
    ...(rowsMm === undefined ? {} : { minRows: Math.ceil(rowsMm / pitch.acrossMm / across) }),
  };
}
