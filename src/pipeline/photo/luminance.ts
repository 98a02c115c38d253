import type { Photo } from "../../1-photo/decode.js";
import type { ToneAdjustments } from "../../2-tone/adjustments.js";
import { liftFromBare } from "../../2-tone/cut-out.js";
import { fadeRow } from "../../2-tone/fade.js";
import { AS_IS, type InputRange } from "../../2-tone/input-range.js";
import {
  addLocalContrast,
  SURROUNDINGS_PX,
  type Surroundings,
  surroundingsOf,
} from "../../2-tone/local-contrast.js";
import { sharpenedRows } from "../../2-tone/sharpen.js";
import { toneTable } from "../../2-tone/tone-table.js";
import { defaultFilter, type ResampleFilter } from "../../3-resample/filters.js";
import { type Frame, mirroredPlacement } from "../../3-resample/frame.js";
import { createKernelMemory, type KernelMemory } from "../../core/kernel-memory.js";
import { codesFromLuminance } from "../../core/luminance-kernels.js";
import { type CodeRows, type PlaneRows, planeOfRows } from "../../core/plane-rows.js";
import type { ResolvedOptions } from "../../options/options.js";
import { changedRows, cutOutRows, type RowChange } from "./cut-out-rows.js";
import { levelsOf } from "./levels-of.js";
import { edgeRowsOf, surfaceLightness } from "./picture-outline.js";
import { coverageRows, type PlacedPhoto, photoPlanes, pictureRows } from "./picture-rows.js";

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
export interface FramedPhoto extends PlacedPhoto {
  /** Only for local contrast. */
  readonly surroundings: Surroundings | undefined;
}

export function framePhoto(photo: Photo, frame: Frame, options: ResolvedOptions, bare: 0 | 1): FramedPhoto {
  const adjust = adjustmentsOf(options);
  const levels: InputRange = adjust.autoLevels ? levelsOf(photo, frame, options) : AS_IS;
  const toned = { photo, frame, tones: toneTable(levels, adjust), bare };
  const framed = { ...toned, planes: photoPlanes(toned), surroundings: undefined };
  if (adjust.localContrast === 0) return framed;
  const { placement, closed } = frame;
  const scale = Math.min(1, SURROUNDINGS_PX / Math.max(placement.columns, placement.rows));
  const columns = Math.max(1, Math.round(placement.columns * scale));
  const rows = Math.max(1, Math.round(placement.rows * scale));
  const small = smallLuminance(framed, columns, rows);
  const opacity = coverageRows(framed, columns, rows, false, createKernelMemory());
  const coverage = opacity && planeOfRows(opacity, columns, rows);
  if (coverage) liftFromBare(small, coverage, bare);
  return { ...framed, surroundings: surroundingsOf(small, columns, rows, closed, coverage) };
}

/** [rows × columns] The placed picture at another size, before what looks at neighbours; never mirrored. */
export function smallLuminance(placed: PlacedPhoto, columns: number, rows: number): Float32Array {
  return planeOfRows(pictureRows(placed, columns, rows, false, createKernelMemory()), columns, rows);
}

/**
 * The photo's linear luminance on the engraving grid, after the user's adjustments, as 16-bit codes; left for right where
 * the bitmap is to be mirrored.
 *
 * Tone comes before resampling where it looks at one pixel alone, for levels are about what the camera saw; what looks at
 * neighbours (local contrast, sharpening for the spot) comes after, since its radius is a length on the work.
 */
export function luminanceRows(framed: FramedPhoto, options: ResolvedOptions, memory: KernelMemory): CodeRows {
  const { frame, bare } = framed;
  const { columns, rows } = frame;
  const onGrid = gridRows(framed, options, memory);
  const { pitch, spot, sharpen, wrap } = options;
  const closed = wrap !== undefined;
  let luminance = sharpenedRows(onGrid, { columns, rows, pitch, spot, closed }, sharpen, memory);
  const edge = edgeRowsOf(frame, options);
  if (edge) {
    // Behind the sharpening, which would steepen the fade.
    const lightness = surfaceLightness(options);
    luminance = changedRows(luminance, (row, y) => fadeRow(row, edge(y), bare, lightness));
  }
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
  const placement = mirror ? mirroredPlacement(frame.placement, columns) : frame.placement;

  let luminance = pictureRows(framed, placement.columns, placement.rows, mirror, memory, filter);
  const contrast: RowChange | undefined =
    surroundings && ((row, y) => contrastRow(row, y, surroundings, placement.rows, mirror, options));
  // Another filter is artwork's, whose tails tell where edges lie, and which does not ring.
  const coverage =
    filter === defaultFilter
      ? coverageRows(framed, placement.columns, placement.rows, mirror, memory)
      : undefined;
  if (coverage) luminance = cutOutRows(luminance, coverage, bare, contrast);
  else if (contrast) luminance = changedRows(luminance, contrast);
  if (placement.columns !== columns || placement.rows !== rows) {
    luminance = placed(luminance, placement, columns, bare, memory);
  }
  return luminance;
}

function contrastRow(
  row: Float32Array,
  y: number,
  surroundings: Surroundings,
  rows: number,
  mirror: boolean,
  { localContrast }: ResolvedOptions,
): void {
  if (mirror) row.reverse();
  addLocalContrast(row, y, rows, surroundings, localContrast);
  if (mirror) row.reverse();
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
