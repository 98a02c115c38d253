import type { Photo } from "../1-photo/decode.js";
import type { ToneAdjustments } from "../2-tone/adjustments.js";
import { AS_IS, automaticLevels } from "../2-tone/levels.js";
import { addLocalContrast } from "../2-tone/local-contrast.js";
import { sharpenForSpot } from "../2-tone/sharpen.js";
import { toneTable } from "../2-tone/tone-table.js";
import type { Frame } from "../3-resample/frame.js";
import { createRowResampler } from "../3-resample/resample.js";
import type { ResolvedOptions } from "../core/options.js";
import { columnsOf, denseData, rowsOf } from "../core/plane.js";

export function adjustmentsOf(options: ResolvedOptions): ToneAdjustments {
  return {
    autoLevels: options.autoTone,
    clipPercent: options.clipPercent,
    brightness: options.brightness,
    contrast: options.contrast,
    gamma: options.gamma,
    localContrast: options.localContrast,
    sharpen: options.sharpen,
  };
}

/**
 * The photo's linear luminance on the engraving grid, after the user's adjustments.
 *
 * Tone comes before resampling where it looks at one pixel alone, for levels are about what the camera saw; what looks at
 * neighbours (local contrast, sharpening for the spot) comes after, since its radius is a length on the work.
 *
 * @param bare luminance that stands for "nothing to engrave": shown through transparency and beside a picture that does not
 *   fill its box
 */
export function luminanceOnGrid(
  photo: Photo,
  frame: Frame,
  options: ResolvedOptions,
  bare: 0 | 1,
): Float32Array {
  const adjust = adjustmentsOf(options);
  const codes = denseData(photo.luminance);
  const opacity = photo.opacity && denseData(photo.opacity);
  const levels = adjust.autoLevels ? automaticLevels(codes, opacity, adjust.clipPercent) : AS_IS;
  const table = toneTable(levels, adjust);
  const sourceColumns = columnsOf(photo.luminance);
  const sourceRows = rowsOf(photo.luminance);
  const { placement, window, columns, rows } = frame;

  const luminance = new Float32Array(columns * rows).fill(bare);
  const resampler = createRowResampler(
    { sourceColumns, sourceRows, window, columns: placement.columns, rows: placement.rows },
    (row, y) => luminance.set(row, (placement.top + y) * columns + placement.left),
  );
  const row = new Float32Array(sourceColumns);
  for (let y = 0, at = 0; y < sourceRows; y++) {
    for (let x = 0; x < sourceColumns; x++, at++) {
      const seen = table[codes[at]];
      row[x] = opacity ? bare + ((seen - bare) * opacity[at]) / 65535 : seen;
    }
    resampler.push(row);
  }
  addLocalContrast(luminance, columns, rows, adjust.localContrast);
  sharpenForSpot(luminance, columns, rows, options.pitch, options.spot, adjust.sharpen);
  return luminance;
}

/** Left for right, in place, row by row. */
export function mirrorRows<Data extends Float32Array | Uint8Array>(data: Data, columns: number): Data {
  for (let from = 0; from < data.length; from += columns) data.subarray(from, from + columns).reverse();
  return data;
}
