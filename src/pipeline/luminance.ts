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
import { defaultFilter, type ResampleFilter } from "../3-resample/filters.js";
import type { Frame } from "../3-resample/frame.js";
import { resampledRows, type SourceRows } from "../3-resample/resample.js";
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
  const framed = { photo, frame, tones: toneTable(levels, adjust), surroundings: undefined, bare };
  if (adjust.localContrast === 0) return framed;
  const { placement } = frame;
  const scale = Math.min(1, SURROUNDINGS_PX / Math.max(placement.columns, placement.rows));
  const columns = Math.max(1, Math.round(placement.columns * scale));
  const rows = Math.max(1, Math.round(placement.rows * scale));
  return { ...framed, surroundings: surroundingsOf(smallLuminance(framed, columns, rows), columns, rows) };
}

/** [rows × columns] The placed picture at another size, before what looks at neighbours; never mirrored. */
export function smallLuminance(framed: FramedPhoto, columns: number, rows: number): Float32Array {
  const memory = createKernelMemory();
  const { window } = framed.frame;
  const row = resampledRows(
    { ...sourceSize(framed.photo), window, columns, rows },
    photoRows(framed, false, memory),
    memory,
  );
  return planeOfRows(row, columns, rows);
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
  const luminance = sharpenedRows(
    memory,
    onGrid,
    columns,
    rows,
    options.pitch,
    options.spot,
    options.sharpen,
  );
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
  const { photo, frame, surroundings, bare } = framed;
  const { columns, rows } = frame;
  const { mirror } = options;
  const placement = mirror
    ? { ...frame.placement, left: columns - frame.placement.left - frame.placement.columns }
    : frame.placement;
  const size = sourceSize(photo);
  const window = mirror
    ? { ...frame.window, left: size.sourceColumns - frame.window.left - frame.window.width }
    : frame.window;

  let luminance: PlaneRows = resampledRows(
    {
      ...size,
      window,
      columns: placement.columns,
      rows: placement.rows,
      filterAlong: filter,
      filterAcross: filter,
    },
    photoRows(framed, mirror, memory),
    memory,
  );
  if (surroundings) luminance = withLocalContrast(luminance, surroundings, placement.rows, mirror, options);
  if (placement.columns !== columns || placement.rows !== rows) {
    luminance = placed(luminance, placement, columns, bare, memory);
  }
  return luminance;
}

const sourceSize = ({ luminance }: Photo) => ({
  sourceColumns: columnsOf(luminance),
  sourceRows: rowsOf(luminance),
});

/** Rows of the photo itself, tones adjusted, transparency over the bare surface. */
function photoRows({ photo, tones, bare }: FramedPhoto, mirror: boolean, memory: KernelMemory): SourceRows {
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
