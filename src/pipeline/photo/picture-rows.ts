import type { Photo } from "../../1-photo/decode.js";
import type { ToneEnds } from "../../2-tone/input-range.js";
import type { Lift } from "../../2-tone/lift.js";
import type { Surroundings } from "../../2-tone/local-contrast.js";
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

/** A photo with its tones on the engraving grid, and the facts about the whole photo. */
export interface PictureOnGrid {
  readonly photo: Photo;
  readonly frame: Frame;
  /** [65536] linear luminance after the user's adjustments, by the photo's encoded luminance. */
  readonly tones: Float32Array;
  /** Luminance that leaves the surface bare: behind transparency, and beside a picture that does not fill its box. */
  readonly bare: 0 | 1;
  /** Only on the sheet of a cone, where each row reads the photo along an arc. */
  readonly planes?: PhotoPlanes | undefined;
  /** Black and white point of the photo. Only with automatic levels. */
  readonly ends?: ToneEnds | undefined;
  /** Only if dark parts are lifted. */
  readonly lift?: Lift | undefined;
  /** Only for local contrast. */
  readonly surroundings?: Surroundings | undefined;
}

/** A grid to resample a picture onto. */
export interface PictureGrid {
  readonly columns: number;
  readonly rows: number;
  /** Whether left and right are swapped. */
  readonly mirror?: boolean;
  readonly filter?: ResampleFilter;
}

/** The whole photo, row-major: linear luminance over the bare surface, and opacity, 0..1. */
interface PhotoPlanes {
  readonly luminance: Float32Array;
  readonly coverage: Float32Array | undefined;
}

/** The picture with the whole photo in memory, if its frame needs that. */
export function withPlanes(picture: PictureOnGrid): PictureOnGrid {
  return picture.frame.sheet ? { ...picture, planes: photoPlanes(picture) } : picture;
}

function photoPlanes(picture: PictureOnGrid): PhotoPlanes {
  const columns = columnsOf(picture.photo.luminance);
  const rows = rowsOf(picture.photo.luminance);
  const memory = createKernelMemory();
  const row = memory.float32(columns);
  const whole = (source: SourceRows): Float32Array => {
    const rowAt: PlaneRows = (y) => {
      source(y, row, 0, 1);
      return row;
    };
    return planeOfRows(rowAt, columns, rows);
  };
  const opacity = opacityRows(picture.photo);
  return { luminance: whole(photoRows(picture, memory)), coverage: opacity && whole(opacity) };
}

/** The picture resampled to a grid. */
export function pictureRows(picture: PictureOnGrid, grid: PictureGrid, memory: KernelMemory): PlaneRows {
  const { frame, planes, photo, bare } = picture;
  const source =
    frame.sheet && planes
      ? sheetRows(photo, planes.luminance, frame.sheet, bare)
      : photoRows(picture, memory);
  return resampledPicture(picture, source, grid, memory);
}

/** [rows × columns] The picture at another size, without the steps that look at neighbours; never mirrored. */
export function smallLuminance(picture: PictureOnGrid, columns: number, rows: number): Float32Array {
  return planeOfRows(pictureRows(picture, { columns, rows }, createKernelMemory()), columns, rows);
}

/**
 * The share of each pixel that the photo covers; undefined without transparency. The triangle filter has no negative lobes, so it
 * finds no coverage where there is none, even if the picture's own filter rings there.
 */
export function coverageRows(
  picture: PictureOnGrid,
  grid: PictureGrid,
  memory: KernelMemory,
): PlaneRows | undefined {
  const { frame, planes, photo } = picture;
  const source =
    frame.sheet && planes?.coverage ? sheetRows(photo, planes.coverage, frame.sheet, 0) : opacityRows(photo);
  return source && resampledPicture(picture, source, { ...grid, filter: "triangle" }, memory);
}

function resampledPicture(
  { photo, frame }: PictureOnGrid,
  source: SourceRows,
  { columns, rows, mirror, filter = defaultFilter }: PictureGrid,
  memory: KernelMemory,
): PlaneRows {
  const { sheet, window, closed } = frame;
  const [sourceColumns, sourceRows] = sheet
    ? [sheet.columns, sheet.rows]
    : [columnsOf(photo.luminance), rowsOf(photo.luminance)];
  const left = mirror ? sourceColumns - window.left - window.width : window.left;
  const filters = { filterAlong: filter, filterAcross: filter };
  const options = { sourceColumns, sourceRows, window: { ...window, left }, columns, rows, ...filters };
  const seen: SourceRows = mirror
    ? (j, out, at, step) => source(j, out, at + (sourceColumns - 1) * step, -step)
    : source;
  if (!closed) return resampledRows(options, seen, memory);
  const round = closedRows(options, seen, memory);
  return resampledRows(round.options, round.source, memory);
}

/** Rows of a plane of the photo on the sheet of a cone. */
const sheetRows = (
  { luminance }: Photo,
  plane: Float32Array,
  sheet: PhotoOnSheet,
  beside: number,
): SourceRows => unrolledRows(plane, columnsOf(luminance), rowsOf(luminance), sheet, beside);

/** Rows of the photo itself, tones adjusted, transparency over the bare surface. */
function photoRows({ photo, tones, bare }: PictureOnGrid, memory: KernelMemory): SourceRows {
  const columns = columnsOf(photo.luminance);
  const table = memory.float32(tones.length);
  table.set(tones);
  const codes = { memory, table, columns };
  const row = memory.uint16(columns);
  return (j, out, at, step) => {
    row.set(planeRow(photo.luminance, j));
    luminanceFromCodes(codes, row, out, at, step);
    if (!photo.opacity) return;
    const opacity = planeRow(photo.opacity, j);
    for (let x = 0, to = at; x < columns; x++, to += step) {
      out[to] = bare + ((out[to] - bare) * opacity[x]) / 65535;
    }
  };
}

/** Rows of its opacity, 0..1; undefined without transparency. */
function opacityRows({ opacity }: Photo): SourceRows | undefined {
  if (!opacity) return undefined;
  const columns = columnsOf(opacity);
  return (j, out, at, step) => {
    const row = planeRow(opacity, j);
    for (let x = 0, to = at; x < columns; x++, to += step) out[to] = row[x] / 65535;
  };
}
