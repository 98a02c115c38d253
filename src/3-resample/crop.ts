import type { Crop, Focus } from "../core/picture-places.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import { refusal } from "../core/refusals/refusals.js";

/** A point of a photo in its pixels, from the upper left corner of the upper left pixel. */
export interface PixelPoint {
  readonly x: number;
  readonly y: number;
}

/** Sums of rounded percentages may be slightly above 100 %. */
const TOLERANCE_PX = 1e-6;

/**
 * The part of a photo to keep, with its edges rounded to whole pixels, at least one pixel wide and high. Without a crop it is the
 * whole photo. Throws `OPTION_OUTSIDE_PHOTO`.
 *
 * @param columns, rows of the upright photo
 */
export function cropRectangle(crop: Crop | undefined, columns: number, rows: number): PixelRectangle {
  if (crop === undefined) return { left: 0, top: 0, columns, rows };
  const [left, right] =
    "leftPx" in crop
      ? [crop.leftPx, crop.leftPx + crop.widthPx]
      : [percentOf(columns, crop.leftPercent), percentOf(columns, crop.leftPercent + crop.widthPercent)];
  const [top, bottom] =
    "topPx" in crop
      ? [crop.topPx, crop.topPx + crop.heightPx]
      : [percentOf(rows, crop.topPercent), percentOf(rows, crop.topPercent + crop.heightPercent)];
  const outside = {
    ...(!isWithin(left, right, columns) && { horizontal: [left, right] as const }),
    ...(!isWithin(top, bottom, rows) && { vertical: [top, bottom] as const }),
  };
  if (Object.keys(outside).length > 0) {
    throw refusal(
      "crop-outside",
      { ...outside, photo: [columns, rows] },
      { received: crop, allowed: `within ${columns} × ${rows} pixels` },
    );
  }
  const from = { left: Math.min(columns - 1, Math.round(left)), top: Math.min(rows - 1, Math.round(top)) };
  return {
    ...from,
    columns: Math.max(1, Math.min(columns, Math.round(right)) - from.left),
    rows: Math.max(1, Math.min(rows, Math.round(bottom)) - from.top),
  };
}

/**
 * The point of a photo to keep in view, relative to the corner of the kept part. Throws `OPTION_OUTSIDE_PHOTO` if it lies outside
 * that part.
 *
 * @param columns, rows of the whole photo
 */
export function focusWithin(
  focus: Focus | undefined,
  kept: PixelRectangle,
  columns: number,
  rows: number,
): PixelPoint | undefined {
  if (focus === undefined) return undefined;
  const { x, y } = focusPoint(focus, columns, rows);
  const point = { x: x - kept.left, y: y - kept.top };
  if (isWithin(point.x, point.x, kept.columns) && isWithin(point.y, point.y, kept.rows)) return point;
  const whole = kept.columns === columns && kept.rows === rows;
  throw refusal(
    "focus-outside",
    {
      point: [x, y],
      photo: [columns, rows],
      ...(!whole && { kept: { size: [kept.columns, kept.rows], from: [kept.left, kept.top] } }),
    },
    { received: focus, allowed: `within ${kept.columns} × ${kept.rows} pixels` },
  );
}

/** A focus in pixels of the whole photo. */
export function focusPoint(focus: Focus, columns: number, rows: number): PixelPoint {
  return "xPx" in focus
    ? { x: focus.xPx, y: focus.yPx }
    : { x: percentOf(columns, focus.xPercent), y: percentOf(rows, focus.yPercent) };
}

const percentOf = (pixels: number, percent: number): number => (pixels * percent) / 100;

const isWithin = (from: number, to: number, length: number): boolean =>
  from >= -TOLERANCE_PX && to <= length + TOLERANCE_PX;
