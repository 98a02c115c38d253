import type { Frame } from "../3-resample/frame.js";
import { resampledRows } from "../3-resample/resample.js";
import { materialPainter } from "../6-report/appearance.js";
import { composePreview, previewSize, type RgbPicture } from "../6-report/preview.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import { type PackedBitmap, unpackBitmap } from "../core/packed-bits.js";
import { plane } from "../core/plane.js";
import { type PlaneRows, planeOfRows } from "../core/plane-rows.js";
import type { BurnModel } from "./job.js";
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
  const shown = previewSize(frame.widthMm, frame.heightMm);
  const predicted = predictedRows(memory, model.plan, model.response, bitmap);
  const piece = scaleForScreen(memory, predicted, columns, rows, shown.columns, shown.rows, options.mirror);
  const { material } = options;
  return composePreview({
    piece: plane("luminance-factor", piece, shown.rows, shown.columns),
    predicted: plane("luminance-factor", planeOfRows(predicted, columns, rows), rows, columns),
    bits: unpackBitmap(bitmap),
    paint: materialPainter(material.bareColor, material.markedColor, model.bare, model.response.saturated),
    bare: model.bare,
    marked: model.solid,
  });
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
      const last = sourceColumns - 1;
      for (let x = 0; x <= last; x++) out[at + x * step] = values[mirror ? last - x : x];
    },
    memory,
  );
  const picture = planeOfRows(row, columns, rows);
  release();
  return picture;
}
