import type { Photo } from "../../1-photo/decode.js";
import type { ToneAdjustments } from "../../2-tone/adjustments.js";
import { fadeRow } from "../../2-tone/fade.js";
import { AS_IS, stretchedRange } from "../../2-tone/input-range.js";
import { sharpenedRows } from "../../2-tone/sharpen.js";
import { toneTable } from "../../2-tone/tone-table.js";
import { defaultFilter, type ResampleFilter } from "../../3-resample/filters.js";
import { type Frame, mirroredPlacement } from "../../3-resample/frame.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { codesFromLuminance } from "../../core/luminance-kernels.js";
import type { CodeRows, PlaneRows } from "../../core/plane-rows.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { Job } from "../job.js";
import { blackAndWhitePoints } from "./black-and-white-points.js";
import { changedRows, cutOutRows } from "./cut-out-rows.js";
import { withGround } from "./ground-points.js";
import { edgeRowsOf, surfaceLightness } from "./picture-outline.js";
import { coverageRows, type PictureOnGrid, pictureRows, withPlanes } from "./picture-rows.js";
import { neighbourChange, withSurroundings } from "./surroundings.js";

export const adjustmentsOf = (options: ResolvedOptions): ToneAdjustments => ({
  ...options,
  autoLevels: options.autoTone,
});

/** A photograph on the grid with its tones adjusted. @param photo the engraved part of it */
export function photoOnGrid(photo: Photo, frame: Frame, options: ResolvedOptions): PictureOnGrid {
  const adjust = adjustmentsOf(options);
  const bare = bareLuminance(options);
  const ends = adjust.autoLevels
    ? withGround(blackAndWhitePoints(photo, frame, options), photo, bare)
    : undefined;
  const tones = toneTable(ends ? stretchedRange(ends) : AS_IS, adjust);
  const picture = withPlanes({ photo, frame, tones, bare, ends });
  return withSurroundings(picture, options);
}

/** Luminance of the photo that leaves the surface bare. */
export const bareLuminance = ({ material }: ResolvedOptions): 0 | 1 => (material.curve.darkens ? 1 : 0);

/**
 * The photo's linear luminance on the engraving grid, after the user's adjustments, as 16-bit codes. Left and right are swapped if
 * the bitmap is mirrored.
 *
 * Tone steps that look at one pixel come before resampling, because levels describe the camera's picture. Steps that look at
 * neighbours (lift, local contrast, sharpening for the spot) come after it, because their radius is a length on the work.
 */
export function luminanceRows(
  { options, memory }: Pick<Job, "options" | "memory">,
  picture: PictureOnGrid,
): CodeRows {
  const { frame, bare } = picture;
  const { columns, rows } = frame;
  const onGrid = gridRows(picture, options, memory);
  const { pitch, spot, sharpen, ringColumns } = options;
  const closed = ringColumns > 0;
  let luminance = sharpenedRows(onGrid, { columns, rows, pitch, spot, closed }, sharpen, memory);
  const edge = edgeRowsOf(frame, options);
  if (edge) {
    // After the sharpening, which would make the fade steeper.
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
  picture: PictureOnGrid,
  options: ResolvedOptions,
  memory: KernelMemory,
  filter: ResampleFilter = defaultFilter,
): PlaneRows {
  const { frame, bare } = picture;
  const { columns, rows } = frame;
  const { mirror } = options;
  const placement = mirror ? mirroredPlacement(frame.placement, columns) : frame.placement;
  const grid = { columns: placement.columns, rows: placement.rows, mirror, filter };
  let luminance = pictureRows(picture, grid, memory);
  const change = neighbourChange(picture, options);
  // Artwork has another filter. It does not ring, and its tails locate the edges.
  const coverage = filter === defaultFilter ? coverageRows(picture, grid, memory) : undefined;
  if (coverage) luminance = cutOutRows(luminance, coverage, bare, change);
  else if (change) luminance = changedRows(luminance, change);
  if (placement.columns !== columns || placement.rows !== rows) {
    luminance = onBareGrid(luminance, placement, columns, bare, memory);
  }
  return luminance;
}

/** A picture in its place on a larger, bare grid. */
function onBareGrid(
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
