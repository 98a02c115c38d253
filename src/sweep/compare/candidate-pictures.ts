import { encodeBitmapPng } from "../../6-report/files/bitmap-png.js";
import type { CandidatePictures, PartOfPiece } from "../../6-report/pictures/candidate-pictures.js";
import { mostDetailed } from "../../6-report/pictures/detail-crop.js";
import { encodePagePicture, paintedPicture } from "../../6-report/pictures/page-picture.js";
import { blurredRows } from "../../core/gaussian-blur.js";
import { packBitmap, unpackArea } from "../../core/packed-bits.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { mirrorPlane, planeOfRows, rowsOfPlane } from "../../core/plane-rows.js";
import { predictedRows } from "../../pipeline/burn/predicted-rows.js";
import { textureOf } from "../../pipeline/burn/write-bitmap.js";
import { painterOf, pieceOnScreen } from "../../pipeline/describe/render-preview.js";
import type { Job } from "../../pipeline/job.js";
import type { JudgedPiece } from "../../pipeline/made-piece.js";
import { onBitmap, type Picture, samplesOf, scaledPicture } from "../part-of-piece.js";

/** Pixels of the close view per pixel of the finest candidate. Marks are round, so one would not do. */
const CLOSE_SCALE = 2;
/**
 * Side of a window on dots, and of a cell over which dots count as a tone in the search for detail, in pixels of the close view.
 */
const WINDOW_PX = 72 * CLOSE_SCALE;
const CELL_PX = 8 * CLOSE_SCALE;
/** Longer side of a contact sheet's picture, and the height of the strip of marks below it. */
const SMALL_PX = 320;
const STRIP_PX = 88;
const MIN_STRIP_PX = 200;
const STRIP_SCALE = 3;

/** Standard deviation of the blend, in dots: 0.07 mm at 254 lines per inch, near a minute of arc at 300 mm. */
const BLEND_DOTS = 0.7;

/**
 * Pictures of a candidate, in the material's colours and as seen: a mirrored bitmap is turned back.
 *
 * @param part of the close-up, as seen
 * @param finestPitchMm of all candidates, so that their pictures have the same size
 */
export async function candidatePictures(
  piece: JudgedPiece,
  part: PartOfPiece,
  finestPitchMm: number,
): Promise<CandidatePictures> {
  const { job, picture, bitmap, method } = piece;
  const { pitch, mirror } = job.options;
  const paint = painterOf(job);
  const painted = ({ values, columns, rows }: Picture) => paintedPicture(values, columns, rows, paint);
  const whole = pieceOnScreen(job, bitmap, picture.frame, predictedRows(job, bitmap, picture.frame));
  const small = scaledDown(job, whole);
  const area = onBitmap(part, piece);
  const areaSeen = seenPart(area, piece);
  const marks = marksOf(piece, area, finestPitchMm);
  const levels = unpackArea(bitmap, area);
  if (mirror) mirrorPlane(levels, area.columns);
  const pixels = packBitmap(levels, area.columns, area.rows, bitmap.levels);
  const [wholeFile, marksFile, dotsFile] = await Promise.all([
    encodePagePicture(painted(blended(whole, piece))),
    encodePagePicture(painted(marks)),
    encodeBitmapPng(pixels, pitch, textureOf(method)),
  ]);
  return {
    whole: wholeFile,
    closeUp: {
      part: areaSeen,
      detail: detailOf(marks, areaSeen),
      ...{ columns: area.columns, rows: area.rows, marks: marksFile, dots: dotsFile },
    },
    small: { whole: painted(small), marks: painted(stripOf(job, marks, small.columns)) },
  };
}

/** For a contact sheet. */
function scaledDown(job: Job, whole: Picture): Picture {
  const share = Math.min(1, SMALL_PX / Math.max(whole.columns, whole.rows));
  return scaledPicture(job, whole, {
    columns: Math.max(1, Math.round(whole.columns * share)),
    rows: Math.max(1, Math.round(whole.rows * share)),
  });
}

/** The marks of an area, as seen, at a scale that is the same for all candidates. */
function marksOf(piece: JudgedPiece, area: PixelRectangle, finestPitchMm: number): Picture {
  const { pitch, mirror } = piece.job.options;
  const px = (mm: number): number => Math.max(1, Math.round((mm / finestPitchMm) * CLOSE_SCALE));
  const size = { columns: px(area.columns * pitch.alongMm), rows: px(area.rows * pitch.acrossMm) };
  return scaledPicture(piece.job, samplesOf(piece, area), size, mirror);
}

/** The middle of the marks for a contact sheet, enlarged to the width of the picture above it. */
function stripOf(job: Job, marks: Picture, aboveColumns: number): Picture {
  const room = { columns: Math.max(MIN_STRIP_PX, aboveColumns), rows: STRIP_PX };
  const enlarged = STRIP_SCALE / CLOSE_SCALE;
  return scaledPicture(job, middleOf(marks, room.columns / enlarged, room.rows / enlarged), {
    columns: Math.min(room.columns, Math.round(marks.columns * enlarged)),
    rows: Math.min(room.rows, Math.round(marks.rows * enlarged)),
  });
}

/** An area of the bitmap, in shares of the piece as seen. */
function seenPart(area: PixelRectangle, { job, bitmap }: JudgedPiece): PartOfPiece {
  const { columns, rows } = bitmap;
  return {
    left: (job.options.mirror ? columns - area.left - area.columns : area.left) / columns,
    top: area.top / rows,
    width: area.columns / columns,
    height: area.rows / rows,
  };
}

/** The most detailed place of a part's marks, in shares of the piece. */
function detailOf(marks: Picture, { left, top, width, height }: PartOfPiece) {
  const { values, columns, rows } = marks;
  const window = { columns: Math.min(columns, WINDOW_PX), rows: Math.min(rows, WINDOW_PX) };
  const place = mostDetailed(values, columns, rows, window, CELL_PX);
  return {
    x: left + (width * (place.left + window.columns / 2)) / columns,
    y: top + (height * (place.top + window.rows / 2)) / rows,
  };
}

/**
 * The whole piece with its dots blended as an eye does, if the picture is fine enough to show single dots. A browser that scales
 * a picture down mixes codes and not light, so separate dots would become too dark and cause moiré.
 */
function blended(whole: Picture, { job, bitmap }: JudgedPiece): Picture {
  const { memory, options } = job;
  const { columns, rows } = whole;
  const [alongPx, acrossPx] = [columns / bitmap.columns, rows / bitmap.rows];
  if (Math.min(alongPx, acrossPx) < 1) return whole;
  const release = memory.mark();
  const shape = {
    ...{ columns, rows, valuesPerPixel: 1, gain: 1, closed: options.ringColumns > 0 },
    ...{ sigmaAlongPx: BLEND_DOTS * alongPx, sigmaAcrossPx: BLEND_DOTS * acrossPx },
  };
  const row = blurredRows(memory, shape, rowsOfPlane(whole.values, columns));
  const values = planeOfRows(row, columns, rows);
  release();
  return { columns, rows, values };
}

/** The middle of a picture, no larger than the maximum. */
function middleOf(picture: Picture, maxColumns: number, maxRows: number): Picture {
  const columns = Math.min(picture.columns, Math.round(maxColumns));
  const rows = Math.min(picture.rows, Math.round(maxRows));
  const left = (picture.columns - columns) >> 1;
  const top = (picture.rows - rows) >> 1;
  const row = rowsOfPlane(picture.values, picture.columns);
  const values = planeOfRows((y) => row(top + y).subarray(left, left + columns), columns, rows);
  return { columns, rows, values };
}
