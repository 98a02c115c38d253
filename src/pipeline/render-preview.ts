import type { Frame } from "../3-resample/frame.js";
import { resampledRows } from "../3-resample/resample.js";
import { materialPainter } from "../6-report/appearance.js";
import type { Rectangle } from "../6-report/canvas.js";
import { composePreview, type PreviewCrop, previewSize, type RgbPicture } from "../6-report/preview.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import { type PackedBitmap, packedRow, unpackRow } from "../core/packed-bits.js";
import { plane } from "../core/plane.js";
import { type PlaneRows, planeOfRows } from "../core/plane-rows.js";
import type { BurnModel } from "./job.js";
import { insideOutline } from "./picture-outline.js";
import { predictedRows } from "./predicted-rows.js";

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
  const predicted = predictedRows(memory, model.plan, model.response, bitmap);
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
  });
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
