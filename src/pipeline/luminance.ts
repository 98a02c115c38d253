import type { Photo } from "../1-photo/decode.js";
import type { ToneAdjustments } from "../2-tone/adjustments.js";
import { AS_IS, automaticLevels, type Levels } from "../2-tone/levels.js";
import {
  addLocalContrast,
  SURROUNDINGS_PX,
  type Surroundings,
  surroundingsOf,
} from "../2-tone/local-contrast.js";
import { sharpenedRows } from "../2-tone/sharpen.js";
import { toneTable } from "../2-tone/tone-table.js";
import { closedRows } from "../3-resample/closed-rows.js";
import { defaultFilter, type ResampleFilter } from "../3-resample/filters.js";
import type { Frame } from "../3-resample/frame.js";
import { resampledRows, type SourceRows } from "../3-resample/resample.js";
import type { PhotoOnSheet } from "../3-resample/sheet.js";
import { unrolledRows } from "../3-resample/unrolled-rows.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { codesFromLuminance, luminanceFromCodes } from "../core/luminance-codes.js";
import type { ResolvedOptions } from "../core/options.js";
import { columnsOf, denseData, rowsOf } from "../core/plane.js";
import { type CodeRows, type PlaneRows, planeOfRows } from "../core/plane-rows.js";

export function adjustmentsOf(options: ResolvedOptions): ToneAdjustments {
  return {
    autoLevels: options.autoTone,
    clipPercent: options.clipPercent,
    brightness: options.brightness,
    contrast: options.contrast,
    gamma: options.gamma,
    negative: options.negative,
    localContrast: options.localContrast,
    sharpen: options.sharpen,
  };
}

/** A photo laid on the engraving grid, with all that had to be found out about it as a whole. */
export interface FramedPhoto {
  readonly photo: Photo;
  readonly frame: Frame;
  /** [65536] linear luminance after the user's adjustments, by the photo's encoded luminance. */
  readonly tones: Float32Array;
  /** Only for local contrast. */
  readonly surroundings: Surroundings | undefined;
  /** Luminance that stands for "nothing to engrave": shown through transparency, and beside a picture that does not fill its box. */
  readonly bare: 0 | 1;
  /** Linear luminance of the whole photo, row-major; only where it lies on the sheet of a cone, which is read at any place. */
  readonly plane: Float32Array | undefined;
}

export function framePhoto(photo: Photo, frame: Frame, options: ResolvedOptions, bare: 0 | 1): FramedPhoto {
  const adjust = adjustmentsOf(options);
  const levels: Levels = adjust.autoLevels
    ? automaticLevels(
        denseData(photo.luminance),
        photo.opacity && denseData(photo.opacity),
        adjust.clipPercent,
      )
    : AS_IS;
  const toned = {
    photo,
    frame,
    tones: toneTable(levels, adjust),
    surroundings: undefined,
    bare,
    plane: undefined,
  };
  const framed: FramedPhoto = frame.sheet ? { ...toned, plane: wholePhoto(toned) } : toned;
  if (adjust.localContrast === 0) return framed;
  const { placement } = frame;
  const scale = Math.min(1, SURROUNDINGS_PX / Math.max(placement.columns, placement.rows));
  const columns = Math.max(1, Math.round(placement.columns * scale));
  const rows = Math.max(1, Math.round(placement.rows * scale));
  const small = smallLuminance(framed, columns, rows);
  return { ...framed, surroundings: surroundingsOf(small, columns, rows, frame.closed) };
}

/** [rows × columns] The placed picture at another size, before what looks at neighbours; never mirrored. */
export function smallLuminance(framed: FramedPhoto, columns: number, rows: number): Float32Array {
  return planeOfRows(pictureRows(framed, columns, rows, false, createKernelMemory()), columns, rows);
}

/**
 * The photo's linear luminance on the engraving grid, after the user's adjustments, as 16-bit codes; left for right where
 * the bitmap is to be mirrored.
 *
 * Tone comes before resampling where it looks at one pixel alone, for levels are about what the camera saw; what looks at
 * neighbours (local contrast, sharpening for the spot) comes after, since its radius is a length on the work.
 */
export function luminanceRows(framed: FramedPhoto, options: ResolvedOptions, memory: KernelMemory): CodeRows {
  const { columns, rows } = framed.frame;
  const onGrid = gridRows(framed, options, memory);
  const { pitch, spot, sharpen, wrap } = options;
  const closed = wrap !== undefined;
  const luminance = sharpenedRows(memory, onGrid, columns, rows, pitch, spot, sharpen, closed);
  const codes = memory.uint16(columns);
  return (y) => {
    codesFromLuminance(memory, luminance(y), columns, codes);
    return codes;
  };
}

/** The photo's linear luminance on the grid, before any sharpening. */
export function gridRows(
  framed: FramedPhoto,
  options: ResolvedOptions,
  memory: KernelMemory,
  filter: ResampleFilter = defaultFilter,
): PlaneRows {
  const { frame, surroundings, bare } = framed;
  const { columns, rows } = frame;
  const { mirror } = options;
  const placement = mirror
    ? { ...frame.placement, left: columns - frame.placement.left - frame.placement.columns }
    : frame.placement;

  let luminance = pictureRows(framed, placement.columns, placement.rows, mirror, memory, filter);
  if (surroundings) luminance = withLocalContrast(luminance, surroundings, placement.rows, mirror, options);
  if (placement.columns !== columns || placement.rows !== rows) {
    luminance = placed(luminance, placement, columns, bare, memory);
  }
  return luminance;
}

/** The picture resampled to `columns` × `rows` pixels; left for right where it is to be mirrored. */
function pictureRows(
  framed: FramedPhoto,
  columns: number,
  rows: number,
  mirror: boolean,
  memory: KernelMemory,
  filter: ResampleFilter = defaultFilter,
): PlaneRows {
  const { photo, frame } = framed;
  const { sourceColumns, sourceRows } = frame.sheet
    ? { sourceColumns: frame.sheet.columns, sourceRows: frame.sheet.rows }
    : { sourceColumns: columnsOf(photo.luminance), sourceRows: rowsOf(photo.luminance) };
  const left = mirror ? sourceColumns - frame.window.left - frame.window.width : frame.window.left;
  const filters = { filterAlong: filter, filterAcross: filter };
  const options = { sourceColumns, sourceRows, window: { ...frame.window, left }, columns, rows, ...filters };
  const source = frame.sheet ? sheetRows(framed, frame.sheet, mirror) : photoRows(framed, mirror, memory);
  if (!frame.closed) return resampledRows(options, source, memory);
  const round = closedRows(options, source, memory);
  return resampledRows(round.options, round.source, memory);
}

/** Rows of the photo as it lies on the sheet of a cone. */
function sheetRows({ photo, plane, bare }: FramedPhoto, sheet: PhotoOnSheet, mirror: boolean): SourceRows {
  if (!plane) throw new Error("The whole photo is wanted.");
  const { luminance } = photo;
  const rows = unrolledRows(plane, columnsOf(luminance), rowsOf(luminance), sheet, bare);
  if (!mirror) return rows;
  return (j, out, at, step) => rows(j, out, at + (sheet.columns - 1) * step, -step);
}

/** Linear luminance of the whole photo, row-major. */
export function wholePhoto(framed: Omit<FramedPhoto, "plane">): Float32Array {
  const columns = columnsOf(framed.photo.luminance);
  const rows = rowsOf(framed.photo.luminance);
  const memory = createKernelMemory();
  const row = memory.float32(columns);
  const source = photoRows(framed, false, memory);
  const plane = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    source(y, row, 0, 1);
    plane.set(row, y * columns);
  }
  return plane;
}

/** Rows of the photo itself, tones adjusted, transparency over the bare surface. */
function photoRows(
  { photo, tones, bare }: Omit<FramedPhoto, "plane">,
  mirror: boolean,
  memory: KernelMemory,
): SourceRows {
  const columns = columnsOf(photo.luminance);
  const codes = denseData(photo.luminance);
  const opacity = photo.opacity && denseData(photo.opacity);
  const table = memory.float32(tones.length);
  table.set(tones);
  const row = memory.uint16(columns);
  return (j, out, at, step) => {
    row.set(codes.subarray(j * columns, (j + 1) * columns));
    const first = mirror ? at + (columns - 1) * step : at;
    const onward = mirror ? -step : step;
    luminanceFromCodes(memory, row, table, columns, out, first, onward);
    if (!opacity) return;
    for (let x = 0, to = first, from = j * columns; x < columns; x++, to += onward) {
      out[to] = bare + ((out[to] - bare) * opacity[from + x]) / 65535;
    }
  };
}

function withLocalContrast(
  luminance: PlaneRows,
  surroundings: Surroundings,
  rows: number,
  mirror: boolean,
  { localContrast }: ResolvedOptions,
): PlaneRows {
  return (y) => {
    const row = luminance(y);
    if (mirror) row.reverse();
    addLocalContrast(row, y, rows, surroundings, localContrast);
    return mirror ? row.reverse() : row;
  };
}

/** A picture in its place on a larger, bare grid. */
function placed(
  luminance: PlaneRows,
  { left, top, columns: width, rows: height }: Frame["placement"],
  columns: number,
  bare: 0 | 1,
  memory: KernelMemory,
): PlaneRows {
  const out = memory.float32(columns);
  return (y) => {
    out.fill(bare);
    if (y >= top && y < top + height) out.set(luminance(y - top).subarray(0, width), left);
    return out;
  };
}
