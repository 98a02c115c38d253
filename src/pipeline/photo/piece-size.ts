import type { Photo, PhotoFacts } from "../../1-photo/decode.js";
import { cropRectangle, focusWithin } from "../../3-resample/crop.js";
import { type Frame, type FrameRequest, frameJob } from "../../3-resample/frame.js";
import { framePlaced } from "../../3-resample/placed.js";
import { frameOnSheet } from "../../3-resample/sheet.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";
import { checkSlant, isCone, type Wrap } from "../../core/wrap.js";
import { MAX_PIXELS, type ResolvedOptions } from "../../options/options.js";
import { DEFAULT_LONGER_SIDE_MM } from "../../options/table/size.js";
import { withCaption } from "./caption.js";
import { checkOutline } from "./picture-outline.js";
import { mayBeSolid } from "./settle-kind.js";

/**
 * The frame of a job. Its window counts from the corner of the cropped photo (see `engravedPart`).
 * Throws `OPTION_TOO_LARGE`, `OPTION_OUTSIDE_PHOTO`, `OPTION_CONFLICT`.
 */
export function frameOf({ format, luminance }: Photo, options: ResolvedOptions): Frame {
  return checkedFrame({ format, columns: columnsOf(luminance), rows: rowsOf(luminance) }, options);
}

/** Throw the errors of `frameOf` as soon as the photo's size is known. A drawing has a size only after it is rendered. */
export function checkPlaces(facts: PhotoFacts, options: ResolvedOptions): void {
  if (facts.format === "svg") checkDrawingPlaces(options);
  else checkedFrame(facts, options);
}

function checkedFrame(facts: Omit<PhotoFacts, "decodingBytes">, options: ResolvedOptions): Frame {
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
  };
  const frame = withCaption(wrap ? frameOnRound(request, wrap) : frameJob(request), options);
  if (frame.columns * frame.rows > MAX_PIXELS) {
    throw refusal("too-many-pixels", { columns: frame.columns, rows: frame.rows, maxPixels: MAX_PIXELS });
  }
  checkOutline(frame, options);
  return frame;
}

function frameOnRound(request: FrameRequest, wrap: Wrap): Frame {
  if (wrap.placing) return framePlaced(request, wrap, wrap.placing);
  if (isCone(wrap) && wrap.layout === "flat") return frameOnSheet(request, wrap);
  const frame = frameJob({ ...request, closed: true });
  if (isCone(wrap)) checkSlant(wrap, frame.heightMm);
  return { ...frame, circles: { topMm: wrap.topMm, bottomMm: wrap.bottomMm, ring: true } };
}

function checkDrawingPlaces({ crop, focus }: ResolvedOptions): void {
  const option = crop && "leftPx" in crop ? "crop" : focus && "xPx" in focus ? "focus" : undefined;
  if (option === undefined) return;
  throw refusal("drawing-in-pixels", { option }, { allowed: "percent" });
}

/** Width, height or both as requested. A missing side follows from the photo. */
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

/** Estimate from the options, before the photo is known. A missing side counts as equal to the other. */
function piecePx({ widthMm, heightMm, pitch }: ResolvedOptions): number {
  const across = heightMm ?? widthMm ?? DEFAULT_LONGER_SIDE_MM;
  const along = widthMm ?? heightMm ?? DEFAULT_LONGER_SIDE_MM;
  return (along / pitch.alongMm) * (across / pitch.acrossMm);
}

export function worthAThread(options: ResolvedOptions): boolean {
  return piecePx(options) >= WORTH_A_THREAD_PX[options.bitmapOnly ? "bitmapOnly" : "predicted"];
}

/**
 * A drawing whose edges are placed is rendered this many times finer than the grid, up to a maximum of pixels. A larger one would
 * fill the memory. Rendered on the grid itself, its widths are still right within a quarter of the pitch.
 */
export const DRAWING_OVERSAMPLING = 2;
const MAX_FINER_PX = 20e6;

/** The size at which to render a drawing, so that its cropped part is as fine as the grid. */
export function decodeHints(options: ResolvedOptions, fileName?: string) {
  const { widthMm, heightMm, crop } = options;
  const finer =
    mayBeSolid(options) && piecePx(options) * DRAWING_OVERSAMPLING ** 2 <= MAX_FINER_PX
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
