import type { Photo } from "../../1-photo/decode.js";
import { closedRows } from "../../3-resample/closed-rows.js";
import { defaultFilter, type ResampleFilter } from "../../3-resample/filters.js";
import type { Frame } from "../../3-resample/frame.js";
import type { PhotoOnSheet } from "../../3-resample/photo-on-sheet.js";
import { resampledRows, type SourceRows } from "../../3-resample/resample.js";
import { unrolledRows } from "../../3-resample/unrolled-rows.js";
import { createKernelMemory, type KernelMemory } from "../../core/kernel-memory.js";
import { luminanceFromCodes } from "../../core/luminance-kernels.js";
import { columnsOf, planeRow, rowsOf } from "../../core/plane.js";
import { type PlaneRows, planeOfRows } from "../../core/plane-rows.js";

/** A photo with its tones, and its place on the grid. */
export interface TonedPhoto {
  readonly photo: Photo;
  readonly frame: Frame;
  /** [65536] linear luminance after the user's adjustments, by the photo's encoded luminance. */
  readonly tones: Float32Array;
  /** Luminance that stands for "nothing to engrave": shown through transparency, and beside a picture that does not fill its box. */
  readonly bare: 0 | 1;
}

/** The whole photo, row-major: linear luminance over the bare surface, and what of it is opaque, 0..1. */
export interface PhotoPlanes {
  readonly luminance: Float32Array;
  readonly coverage: Float32Array | undefined;
}

/** The whole photo at hand, where each row reads it along an arc: on the sheet of a cone. */
export function photoPlanes(toned: TonedPhoto): PhotoPlanes | undefined {
  if (!toned.frame.sheet) return undefined;
  const columns = columnsOf(toned.photo.luminance);
  const rows = rowsOf(toned.photo.luminance);
  const memory = createKernelMemory();
  const row = memory.float32(columns);
  const whole = (source: SourceRows): Float32Array => {
    const rowAt: PlaneRows = (y) => {
      source(y, row, 0, 1);
      return row;
    };
    return planeOfRows(rowAt, columns, rows);
  };
  const opacity = opacityRows(toned.photo, false);
  return { luminance: whole(photoRows(toned, false, memory)), coverage: opacity && whole(opacity) };
}

/** A photo that can be read row by row onto its place. */
export interface PlacedPhoto extends TonedPhoto {
  /** Only on the sheet of a cone. */
  readonly planes: PhotoPlanes | undefined;
}

/** The picture resampled to `columns` × `rows` pixels; left for right where it is to be mirrored. */
export function pictureRows(
  placed: PlacedPhoto,
  columns: number,
  rows: number,
  mirror: boolean,
  memory: KernelMemory,
  filter: ResampleFilter = defaultFilter,
): PlaneRows {
  const { sheet } = placed.frame;
  const source =
    sheet && placed.planes
      ? sheetRows(placed.photo, placed.planes.luminance, sheet, placed.bare, mirror)
      : photoRows(placed, mirror, memory);
  return placedRows(placed, source, columns, rows, mirror, memory, filter);
}

/**
 * The share of each pixel that the photo covers, where parts of it are transparent. By the triangle filter, which has no
 * negative lobes: where it finds nothing there is nothing, and what rings there in the picture's own filter is no picture.
 */
export function coverageRows(
  placed: PlacedPhoto,
  columns: number,
  rows: number,
  mirror: boolean,
  memory: KernelMemory,
): PlaneRows | undefined {
  const { sheet } = placed.frame;
  const coverage = placed.planes?.coverage;
  const source =
    sheet && coverage
      ? sheetRows(placed.photo, coverage, sheet, 0, mirror)
      : opacityRows(placed.photo, mirror);
  return source && placedRows(placed, source, columns, rows, mirror, memory, "triangle");
}

function placedRows(
  { photo, frame }: PlacedPhoto,
  source: SourceRows,
  columns: number,
  rows: number,
  mirror: boolean,
  memory: KernelMemory,
  filter: ResampleFilter,
): PlaneRows {
  const { sheet, window, closed } = frame;
  const [sourceColumns, sourceRows] = sheet
    ? [sheet.columns, sheet.rows]
    : [columnsOf(photo.luminance), rowsOf(photo.luminance)];
  const left = mirror ? sourceColumns - window.left - window.width : window.left;
  const filters = { filterAlong: filter, filterAcross: filter };
  const options = { sourceColumns, sourceRows, window: { ...window, left }, columns, rows, ...filters };
  if (!closed) return resampledRows(options, source, memory);
  const round = closedRows(options, source, memory);
  return resampledRows(round.options, round.source, memory);
}

/** Rows of a plane of the photo as it lies on the sheet of a cone. */
function sheetRows(
  { luminance }: Photo,
  plane: Float32Array,
  sheet: PhotoOnSheet,
  beside: number,
  mirror: boolean,
): SourceRows {
  const rows = unrolledRows(plane, columnsOf(luminance), rowsOf(luminance), sheet, beside);
  if (!mirror) return rows;
  return (j, out, at, step) => rows(j, out, at + (sheet.columns - 1) * step, -step);
}

/** Rows of the photo itself, tones adjusted, transparency over the bare surface. */
function photoRows({ photo, tones, bare }: TonedPhoto, mirror: boolean, memory: KernelMemory): SourceRows {
  const columns = columnsOf(photo.luminance);
  const table = memory.float32(tones.length);
  table.set(tones);
  const codes = { memory, table, columns };
  const row = memory.uint16(columns);
  return (j, out, at, step) => {
    row.set(planeRow(photo.luminance, j));
    const first = mirror ? at + (columns - 1) * step : at;
    const onward = mirror ? -step : step;
    luminanceFromCodes(codes, row, out, first, onward);
    if (!photo.opacity) return;
    const opacity = planeRow(photo.opacity, j);
    for (let x = 0, to = first; x < columns; x++, to += onward) {
      out[to] = bare + ((out[to] - bare) * opacity[x]) / 65535;
    }
  };
}

/** Rows of its opacity, 0..1; undefined where nothing of it is transparent. */
function opacityRows({ opacity }: Photo, mirror: boolean): SourceRows | undefined {
  if (!opacity) return undefined;
  const columns = columnsOf(opacity);
  return (j, out, at, step) => {
    const row = planeRow(opacity, j);
    const onward = mirror ? -step : step;
    let to = mirror ? at + (columns - 1) * step : at;
    for (let x = 0; x < columns; x++, to += onward) out[to] = row[x] / 65535;
  };
}
