import { exposeRows } from "../../5-burn/exposure.js";
import { encodeBitmapPng } from "../../6-report/files/bitmap-png.js";
import { materialPainter } from "../../6-report/pictures/appearance.js";
import type { CandidatePictures, PartOfPiece } from "../../6-report/pictures/candidate-pictures.js";
import { mostDetailed } from "../../6-report/pictures/detail-crop.js";
import { encodePagePicture, paintedPicture } from "../../6-report/pictures/page-picture.js";
import { previewSize } from "../../6-report/pictures/preview.js";
import { blurredRows } from "../../core/gaussian-blur.js";
import { luminanceFactorAt } from "../../core/material/response.js";
import { packBitmap, rowsOfBitmap, unpackBitmap } from "../../core/packed-bits.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { predictedRows } from "../../pipeline/burn/predicted-rows.js";
import { textureOf } from "../../pipeline/burn/write-bitmap.js";
import { scaleForScreen } from "../../pipeline/describe/scale-for-screen.js";
import { roundExposure } from "../../pipeline/photo/round-piece.js";
import type { FinishedPiece } from "../../pipeline/prepare.js";

/** Pixels of the close view to a pixel of the finest candidate: marks are round. */
const CLOSE_SCALE = 2;
/** Side of a window on dots, and of a cell over which they count as tone when detail is sought, in such pixels. */
const WINDOW_PX = 72 * CLOSE_SCALE;
const CELL_PX = 8 * CLOSE_SCALE;
/** Longer side of a contact sheet's picture, and the height of the strip of marks below it. */
const SMALL_PX = 320;
const STRIP_PX = 88;
const LEAST_STRIP_PX = 200;
const STRIP_SCALE = 3;

/** Standard deviation of the blend, in dots: 0.07 mm at 254 lines per inch, near a minute of arc at 300 mm. */
const BLEND_DOTS = 0.7;

/** A picture of luminance factors, row-major. */
interface Picture {
  readonly columns: number;
  readonly rows: number;
  readonly values: Float32Array;
}

/**
 * Pictures of a candidate, in the material's colours and as seen: a mirrored bitmap is turned back.
 *
 * @param part where to look closely, as seen; @param finestPitchMm of all candidates, so that their pictures are equally large
 */
export async function candidatePictures(
  piece: FinishedPiece,
  part: PartOfPiece,
  finestPitchMm: number,
): Promise<CandidatePictures> {
  const { memory, model, options, bitmap, method } = piece;
  const { pitch, material, mirror } = options;
  const paint = materialPainter(
    material.bareColor,
    material.markedColor,
    model.bare,
    model.response.saturated,
  );
  const painted = ({ values, columns, rows }: Picture) => paintedPicture(values, columns, rows, paint);
  const [widthMm, heightMm] = [bitmap.columns * pitch.alongMm, bitmap.rows * pitch.acrossMm];
  const scaled = ({ values, columns, rows }: Picture, to: Size, turned = false): Picture => {
    const row = (y: number) => values.subarray(y * columns, (y + 1) * columns);
    return { ...to, values: scaleForScreen(memory, { row, columns, rows }, to, turned) };
  };

  const shown = previewSize(widthMm, heightMm, bitmap.columns, bitmap.rows);
  const round = roundExposure(options, bitmap.rows);
  const row = predictedRows(memory, model.plan, model.response, bitmap, round);
  const { columns, rows } = bitmap;
  const whole = { ...shown, values: scaleForScreen(memory, { row, columns, rows }, shown, mirror) };
  const share = Math.min(1, SMALL_PX / Math.max(shown.columns, shown.rows));

  const area = onBitmap(part, piece);
  const areaMm = { width: area.columns * pitch.alongMm, height: area.rows * pitch.acrossMm };
  const sized = (mm: { readonly width: number; readonly height: number }, scale: number): Size => ({
    columns: Math.max(1, Math.round((mm.width / finestPitchMm) * scale)),
    rows: Math.max(1, Math.round((mm.height / finestPitchMm) * scale)),
  });
  const burned = samplesOf(piece, area);
  const marks = scaled(burned, sized(areaMm, CLOSE_SCALE), mirror);
  const smallSize = {
    columns: Math.max(1, Math.round(shown.columns * share)),
    rows: Math.max(1, Math.round(shown.rows * share)),
  };
  // As wide as the picture above it.
  const stripRoom = { columns: Math.max(LEAST_STRIP_PX, smallSize.columns), rows: STRIP_PX };
  const enlarged = STRIP_SCALE / CLOSE_SCALE;
  const strip = scaled(middleOf(marks, stripRoom.columns / enlarged, stripRoom.rows / enlarged), {
    columns: Math.min(stripRoom.columns, Math.round(marks.columns * enlarged)),
    rows: Math.min(stripRoom.rows, Math.round(marks.rows * enlarged)),
  });
  const pixels = packBitmap(pixelsOf(piece, area), area.columns, area.rows, bitmap.levels);
  const shownPart = {
    left: (mirror ? columns - area.left - area.columns : area.left) / columns,
    top: area.top / rows,
    width: area.columns / columns,
    height: area.rows / rows,
  };
  const [wholeFile, marksFile, dotsFile] = await Promise.all([
    encodePagePicture(painted(blended(whole, piece))),
    encodePagePicture(painted(marks)),
    encodeBitmapPng(pixels, pitch, textureOf(method)),
  ]);
  return {
    whole: wholeFile,
    closeUp: {
      part: shownPart,
      detail: detailOf(marks, shownPart),
      ...{ columns: area.columns, rows: area.rows, marks: marksFile, dots: dotsFile },
    },
    small: { whole: painted(scaled(whole, smallSize)), marks: painted(strip) },
  };
}

interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** Where the marks of a part have most detail, in shares of the piece. */
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
 * The whole piece as an eye blends its dots, where the picture is fine enough to show them one by one: a browser that makes it
 * smaller mixes codes and not light, so that open dots would come out too dark and beat with the screen.
 */
function blended(whole: Picture, { memory, bitmap, options }: FinishedPiece): Picture {
  const { columns, rows } = whole;
  const [alongPx, acrossPx] = [columns / bitmap.columns, rows / bitmap.rows];
  if (Math.min(alongPx, acrossPx) < 1) return whole;
  const release = memory.mark();
  const shape = {
    ...{ columns, rows, valuesPerPixel: 1, gain: 1, closed: options.wrap !== undefined },
    ...{ sigmaAlongPx: BLEND_DOTS * alongPx, sigmaAcrossPx: BLEND_DOTS * acrossPx },
  };
  const row = blurredRows(memory, shape, (y) => whole.values.subarray(y * columns, (y + 1) * columns));
  const values = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) values.set(row(y), y * columns);
  release();
  return { columns, rows, values };
}

/** Whole pixels of the bitmap, which may be mirrored. */
function onBitmap(part: PartOfPiece, { bitmap, options }: FinishedPiece): PixelRectangle {
  const stretch = (from: number, length: number, count: number) => {
    const size = Math.min(count, Math.max(1, Math.round(length * count)));
    return { start: Math.min(count - size, Math.round(from * count)), size };
  };
  const along = stretch(part.left, part.width, bitmap.columns);
  const across = stretch(part.top, part.height, bitmap.rows);
  const left = options.mirror ? bitmap.columns - along.start - along.size : along.start;
  return { left, top: across.start, columns: along.size, rows: across.size };
}

/** What is predicted of an area of the bitmap at every sample of its exposure. */
function samplesOf({ memory, model, options, bitmap }: FinishedPiece, area: PixelRectangle): Picture {
  const { plan, response } = model;
  const { samplesAlong, samplesAcross } = plan;
  const { closed, doseOfRow } = roundExposure(options, bitmap.rows);
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

/** Levels of an area of the bitmap as seen, one byte a pixel. */
function pixelsOf(
  { bitmap, options }: FinishedPiece,
  { left, top, columns, rows }: PixelRectangle,
): Uint8Array {
  const lines = {
    ...bitmap,
    rows,
    bytes: bitmap.bytes.subarray(top * bitmap.stride, (top + rows) * bitmap.stride),
  };
  const levels = unpackBitmap(lines);
  const pixels = new Uint8Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    const from = y * bitmap.columns + left;
    const line = pixels.subarray(y * columns, (y + 1) * columns);
    line.set(levels.subarray(from, from + columns));
    if (options.mirror) line.reverse();
  }
  return pixels;
}

/** The middle of a picture, at most so large. */
function middleOf(picture: Picture, mostColumns: number, mostRows: number): Picture {
  const columns = Math.min(picture.columns, Math.round(mostColumns));
  const rows = Math.min(picture.rows, Math.round(mostRows));
  const left = (picture.columns - columns) >> 1;
  const top = (picture.rows - rows) >> 1;
  const values = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    const from = (top + y) * picture.columns + left;
    values.set(picture.values.subarray(from, from + columns), y * columns);
  }
  return { columns, rows, values };
}
