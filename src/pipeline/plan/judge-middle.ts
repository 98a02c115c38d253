import type { Frame } from "../../3-resample/frame.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { ERROR_MARGIN_PX } from "../../5-burn/visual-error.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import type { ResolvedOptions } from "../../core/options.js";
import {
  bytesPerPackedRow,
  type PackedBitmap,
  packedRow,
  packRow,
  unpackRow,
} from "../../core/packed-bits.js";
import type { BurnModel } from "../job.js";
import { judgePiece, type PieceErrors } from "../judge-piece.js";
import type { FramedPhoto } from "../luminance.js";

/** A rectangle of the grid, in pixels. */
interface Part {
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
}

/**
 * Side in mm of the square that densities are judged on, the same surface for all of them: as many spots as make the
 * densest of a usual ladder, at five times matched, 850 pixels.
 */
export const judgedSideMm = (spotMm: number): number => 170 * spotMm;

export interface MiddleErrors extends PieceErrors {
  readonly judgedMm: number;
}

/** Visual error of a finished bitmap in the middle of its piece; of all of it where it is no larger. */
export function judgeMiddle(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  framed: FramedPhoto,
  method: HalftoneMethod,
  options: ResolvedOptions,
): MiddleErrors {
  const { pitch, spot } = options;
  const sideMm = judgedSideMm(Math.sqrt(spot.alongMm * spot.acrossMm));
  const part = middle(bitmap, sideMm / pitch.alongMm, sideMm / pitch.acrossMm);
  const judgedMm = Math.min(part.columns * pitch.alongMm, part.rows * pitch.acrossMm);
  const whole = part.columns === bitmap.columns && part.rows === bitmap.rows;
  const errors = whole
    ? judgePiece(memory, model, bitmap, framed, method, options)
    : judgePiece(
        memory,
        model,
        partOfBitmap(bitmap, part),
        { ...framed, frame: partOfFrame(framed.frame, part, pitch.alongMm, pitch.acrossMm) },
        method,
        options,
      );
  return { ...errors, judgedMm };
}

/** The middle with the margin that no error is counted in, symmetric so that a mirrored piece has the same one. */
function middle({ columns, rows }: PackedBitmap, widthPx: number, heightPx: number): Part {
  const width = Math.ceil(widthPx) + 2 * ERROR_MARGIN_PX;
  const height = Math.ceil(heightPx) + 2 * ERROR_MARGIN_PX;
  const left = Math.max(0, Math.floor((columns - width) / 2));
  const top = Math.max(0, Math.floor((rows - height) / 2));
  return { left, top, columns: columns - 2 * left, rows: rows - 2 * top };
}

function partOfBitmap(bitmap: PackedBitmap, { left, top, columns, rows }: Part): PackedBitmap {
  const stride = bytesPerPackedRow(columns);
  const bytes = new Uint8Array(stride * rows);
  const bits = new Uint8Array(bitmap.columns);
  for (let y = 0; y < rows; y++) {
    unpackRow(packedRow(bitmap, top + y), 0, bitmap.columns, bits, 0);
    packRow(bits, left, columns, bytes, y * stride);
  }
  return { columns, rows, stride, bytes };
}

/** The same part of the photo: what of its placement lies there, and the window of the source that fills it. */
function partOfFrame(frame: Frame, part: Part, pitchAlongMm: number, pitchAcrossMm: number): Frame {
  const { placement, window } = frame;
  const left = Math.max(part.left, placement.left);
  const top = Math.max(part.top, placement.top);
  const right = Math.min(part.left + part.columns, placement.left + placement.columns);
  const bottom = Math.min(part.top + part.rows, placement.top + placement.rows);
  const sourcePerColumn = window.width / placement.columns;
  const sourcePerRow = window.height / placement.rows;
  return {
    columns: part.columns,
    rows: part.rows,
    widthMm: part.columns * pitchAlongMm,
    heightMm: part.rows * pitchAcrossMm,
    placement: { left: left - part.left, top: top - part.top, columns: right - left, rows: bottom - top },
    window: {
      left: window.left + (left - placement.left) * sourcePerColumn,
      top: window.top + (top - placement.top) * sourcePerRow,
      width: (right - left) * sourcePerColumn,
      height: (bottom - top) * sourcePerRow,
    },
  };
}
