import type { Frame } from "../3-resample/frame.js";
import { createRowResampler } from "../3-resample/resample.js";
import { materialPainter } from "../6-report/appearance.js";
import { composePreview, previewSize } from "../6-report/preview.js";
import { encodePreviewPng } from "../6-report/preview-png.js";
import type { ResolvedOptions } from "../core/options.js";
import { plane } from "../core/plane.js";
import type { BurnModel } from "./job.js";
import { mirrorRows } from "./luminance.js";
import type { PiecePrediction } from "./predict-piece.js";

/** The preview as PNG: the piece as its owner sees it, so a mirrored bitmap is shown the right way round. */
export function renderPreview(
  model: BurnModel,
  { luminance }: PiecePrediction,
  bits: Uint8Array,
  frame: Frame,
  options: ResolvedOptions,
): Promise<Uint8Array> {
  const { columns, rows } = frame;
  const shown = previewSize(frame.widthMm, frame.heightMm, columns, rows);
  const seen = options.mirror ? mirrorRows(luminance.slice(), columns) : luminance;
  const seenBits = options.mirror ? mirrorRows(bits.slice(), columns) : bits;
  const piece = scaleForScreen(seen, columns, rows, shown.columns, shown.rows);
  const { material } = options;
  return encodePreviewPng(
    composePreview({
      piece: plane("luminance-factor", piece, shown.rows, shown.columns),
      predicted: plane("luminance-factor", seen, rows, columns),
      bits: seenBits,
      paint: materialPainter(material.bareColor, material.markedColor, model.bare, model.response.saturated),
      widthMm: frame.widthMm,
      heightMm: frame.heightMm,
    }),
  );
}

/** Mitchell–Netravali either way: dots finer than the screen melt into tone without moiré, larger ones stay soft. */
function scaleForScreen(
  source: Float32Array,
  sourceColumns: number,
  sourceRows: number,
  columns: number,
  rows: number,
): Float32Array {
  const out = new Float32Array(columns * rows);
  const window = { left: 0, top: 0, width: sourceColumns, height: sourceRows };
  const resampler = createRowResampler(
    { sourceColumns, sourceRows, window, columns, rows, filterAlong: "mitchell", filterAcross: "mitchell" },
    (row, y) => out.set(row, y * columns),
  );
  for (let from = 0; from < source.length; from += sourceColumns) {
    resampler.push(source.subarray(from, from + sourceColumns));
  }
  return out;
}
