import { exposeRows } from "../5-burn/exposure.js";
import type { PartOfPiece } from "../6-report/pictures/candidate-pictures.js";
import type { PictureSize } from "../6-report/pictures/preview-size.js";
import { luminanceFactorAt } from "../core/material/response.js";
import { rowsOfBitmap } from "../core/packed-bits.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import { rowsOfPlane } from "../core/plane-rows.js";
import { scaleForScreen } from "../pipeline/describe/scale-for-screen.js";
import type { Job } from "../pipeline/job.js";
import type { JudgedPiece } from "../pipeline/made-piece.js";
import { roundExposure } from "../pipeline/photo/round-piece.js";

/*
 * A part of a made piece close up: shared by the pictures of a comparison and those of a plan.
 */

/** A picture of luminance factors, row-major. */
export interface Picture extends PictureSize {
  readonly values: Float32Array;
}

/** A picture at another size; `mirror` swaps left and right. */
export function scaledPicture(
  { memory }: Job,
  { values, columns, rows }: Picture,
  to: PictureSize,
  mirror = false,
): Picture {
  const source = { row: rowsOfPlane(values, columns), columns, rows };
  return { ...to, values: scaleForScreen(memory, source, to, mirror) };
}

/** A part of the piece as seen, as whole pixels of the bitmap, which may be mirrored. */
export function onBitmap(part: PartOfPiece, { job, bitmap }: JudgedPiece): PixelRectangle {
  const stretch = (from: number, length: number, count: number) => {
    const size = Math.min(count, Math.max(1, Math.round(length * count)));
    return { start: Math.min(count - size, Math.round(from * count)), size };
  };
  const along = stretch(part.left, part.width, bitmap.columns);
  const across = stretch(part.top, part.height, bitmap.rows);
  const left = job.options.mirror ? bitmap.columns - along.start - along.size : along.start;
  return { left, top: across.start, columns: along.size, rows: across.size };
}

/** The prediction for an area of the bitmap at every sample of its exposure. */
export function samplesOf({ job, bitmap, picture }: JudgedPiece, area: PixelRectangle): Picture {
  const { memory, model } = job;
  const { plan, response } = model;
  const { samplesAlong, samplesAcross } = plan;
  const { closed, doseOfRow } = roundExposure(picture.frame);
  const wide = area.columns * samplesAlong;
  const values = new Float32Array(wide * area.rows * samplesAcross);
  let to = 0;
  exposeRows(
    { plan, memory },
    rowsOfBitmap(bitmap, closed),
    { firstRow: area.top, endRow: area.top + area.rows },
    (dose, y) => {
      const stride = dose.length / samplesAlong;
      const factor = doseOfRow(y);
      for (let x = area.left; x < area.left + area.columns; x++) {
        for (let s = 0; s < samplesAlong; s++) {
          values[to++] = luminanceFactorAt(response, factor * dose[s * stride + x]);
        }
      }
    },
  );
  return { columns: wide, rows: area.rows * samplesAcross, values };
}
