import type { Frame } from "../3-resample/frame.js";
import { resampledRows } from "../3-resample/resample.js";
import { materialPainter } from "../6-report/appearance.js";
import { createBoxMeans, pageBlock } from "../6-report/box-means.js";
import type { Rectangle } from "../6-report/canvas.js";
import type { BitmapTexture } from "../6-report/deflate.js";
import { paintedPicture } from "../6-report/page-picture.js";
import { composePreview, type PreviewCrop, previewSize } from "../6-report/preview.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import { type PackedBitmap, unpackRow } from "../core/packed-bits.js";
import { plane } from "../core/plane.js";
import { type PlaneRows, planeOfRows } from "../core/plane-rows.js";
import type { BurnModel } from "./job.js";
import { loupeOf, type PiecePictures } from "./piece-pictures.js";
import { predictedRows } from "./predicted-rows.js";

/**
 * The preview: the piece as its owner sees it, so a mirrored bitmap is shown the right way round. For a page, in the same
 * pass over the predicted rows, the piece made small (not mirrored) and its dots.
 */
export async function piecePictures(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  frame: Frame,
  options: ResolvedOptions,
  forPage?: BitmapTexture,
): Promise<PiecePictures> {
  const { columns, rows } = bitmap;
  const shown = previewSize(frame.widthMm, frame.heightMm, columns, rows);
  const predicted = predictedRows(memory, model.plan, model.response, bitmap);
  const means =
    forPage && createBoxMeans(columns, rows, pageBlock(frame.widthMm, frame.heightMm, columns, rows));
  const watched: PlaneRows = (y) => {
    const row = predicted(y);
    means?.add(row);
    return row;
  };
  const piece = scaleForScreen(memory, watched, columns, rows, shown.columns, shown.rows, options.mirror);
  const { material } = options;
  const paint = materialPainter(
    material.bareColor,
    material.markedColor,
    model.bare,
    model.response.saturated,
  );
  const preview = composePreview({
    piece: plane("luminance-factor", piece, shown.rows, shown.columns),
    burnColumns: columns,
    burnRows: rows,
    crop: (part) => cropped(bitmap, predicted, part, options.mirror),
    paint,
    widthMm: frame.widthMm,
    heightMm: frame.heightMm,
  });
  if (!means || !forPage) return { preview };
  const small = means.picture();
  const loupe = await loupeOf(bitmap, small, model.plan, model.response, paint, forPage, frame, options);
  const painted = paintedPicture(small, options.pitch, paint, options.mirror);
  return { preview, page: { predicted: painted, loupe } };
}

/** Part of the bitmap and of its prediction, as seen: `part` counts from the left of the piece, not of the bitmap. */
function cropped(
  bitmap: PackedBitmap,
  predicted: PlaneRows,
  { left, top, columns, rows }: Rectangle,
  mirror: boolean,
): PreviewCrop {
  const first = mirror ? bitmap.columns - left - columns : left;
  const bits = new Uint8Array(columns * rows);
  const luminance = new Float32Array(columns * rows);
  const line = new Uint8Array(bitmap.columns);
  for (let y = 0; y < rows; y++) {
    unpackRow(bitmap.bytes, (top + y) * bitmap.stride, bitmap.columns, line, 0);
    bits.set(line.subarray(first, first + columns), y * columns);
    luminance.set(predicted(top + y).subarray(first, first + columns), y * columns);
    if (mirror) {
      bits.subarray(y * columns, (y + 1) * columns).reverse();
      luminance.subarray(y * columns, (y + 1) * columns).reverse();
    }
  }
  return { bits, predicted: luminance };
}

/** Mitchell–Netravali either way: dots finer than the screen melt into tone without moiré, larger ones stay soft. */
function scaleForScreen(
  memory: KernelMemory,
  source: PlaneRows,
  sourceColumns: number,
  sourceRows: number,
  columns: number,
  rows: number,
  mirror: boolean,
): Float32Array {
  const release = memory.mark();
  const window = { left: 0, top: 0, width: sourceColumns, height: sourceRows };
  const row = resampledRows(
    { sourceColumns, sourceRows, window, columns, rows, filterAlong: "mitchell", filterAcross: "mitchell" },
    (j, out, at, step) => {
      const values = source(j);
      const onward = mirror ? -step : step;
      let to = mirror ? at + (sourceColumns - 1) * step : at;
      for (let x = 0; x < sourceColumns; x++, to += onward) out[to] = values[x];
    },
    memory,
  );
  const picture = planeOfRows(row, columns, rows);
  release();
  return picture;
}
