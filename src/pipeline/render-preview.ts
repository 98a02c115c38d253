import type { Frame } from "../3-resample/frame.js";
import { resampledRows } from "../3-resample/resample.js";
import { materialPainter } from "../6-report/appearance.js";
import type { Rectangle } from "../6-report/canvas.js";
import { coneView } from "../6-report/cone-view.js";
import {
  composePreview,
  type PreviewCrop,
  type PreviewParts,
  previewSize,
  type RgbPicture,
} from "../6-report/preview.js";
import type { PictureSize } from "../6-report/preview-size.js";
import { frustum } from "../core/frustum.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import { type PackedBitmap, packedRow, unpackRow } from "../core/packed-bits.js";
import { plane } from "../core/plane.js";
import { type PlaneRows, planeOfRows } from "../core/plane-rows.js";
import { isCone, type Wrap } from "../core/wrap.js";
import type { BurnModel } from "./job.js";
import { insideOutline } from "./picture-outline.js";
import { predictedRows } from "./predicted-rows.js";
import { roundExposure } from "./round-piece.js";

/** The preview: the piece as its owner sees it, so a mirrored bitmap is shown the right way round. */
export function previewPicture(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  frame: Frame,
  options: ResolvedOptions,
): RgbPicture {
  const { columns, rows } = bitmap;
  const shown = previewSize(frame.widthMm, frame.heightMm, columns, rows);
  const predicted = predictedRows(memory, model.plan, model.response, bitmap, roundExposure(options, rows));
  const piece = scaleForScreen(memory, predicted, columns, rows, shown.columns, shown.rows, options.mirror);
  const { material } = options;
  return composePreview({
    piece: plane("luminance-factor", piece, shown.rows, shown.columns),
    burnColumns: columns,
    burnRows: rows,
    levels: bitmap.levels,
    picture: insideOutline(frame, options),
    crop: (part) => cropped(bitmap, predicted, part, options.mirror),
    paint: materialPainter(material.bareColor, material.markedColor, model.bare, model.response.saturated),
    widthMm: frame.widthMm,
    heightMm: frame.heightMm,
    ...(options.wrap && roundParts(options.wrap, frame, piece, shown)),
  });
}

/** What differs in the preview of a round piece: a cylinder is shown as its bitmap lies, a cone as its unrolled sheet. */
function roundParts(
  wrap: Wrap,
  { widthMm, heightMm }: Frame,
  piece: Float32Array,
  { columns, rows }: PictureSize,
): Pick<PreviewParts, "title" | "view"> {
  if (!isCone(wrap)) return { title: "the piece unrolled, as predicted, left and right meet" };
  const cone = frustum(wrap.topMm, wrap.bottomMm, heightMm);
  return {
    title: "the cone unrolled, as predicted; its straight sides meet",
    view: coneView(piece, columns, rows, cone, columns / widthMm),
  };
}

/** Part of the bitmap and of its prediction, as seen: `part` counts from the left of the piece, not of the bitmap. */
function cropped(
  bitmap: PackedBitmap,
  predicted: PlaneRows,
  { left, top, columns, rows }: Rectangle,
  mirror: boolean,
): PreviewCrop {
  const first = mirror ? bitmap.columns - left - columns : left;
  const pixels = new Uint8Array(columns * rows);
  const luminance = new Float32Array(columns * rows);
  const line = new Uint8Array(bitmap.columns);
  for (let y = 0; y < rows; y++) {
    if (bitmap.levels > 2) line.set(packedRow(bitmap, top + y));
    else unpackRow(bitmap.bytes, (top + y) * bitmap.stride, bitmap.columns, line, 0);
    pixels.set(line.subarray(first, first + columns), y * columns);
    luminance.set(predicted(top + y).subarray(first, first + columns), y * columns);
    if (mirror) {
      pixels.subarray(y * columns, (y + 1) * columns).reverse();
      luminance.subarray(y * columns, (y + 1) * columns).reverse();
    }
  }
  return { pixels, predicted: luminance };
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
