import type { Photo } from "../../1-photo/decode.js";
import { countTones, type ToneEnds } from "../../2-tone/input-range.js";
import type { Frame } from "../../3-resample/frame.js";
import type { PhotoOnSheet } from "../../3-resample/photo-on-sheet.js";
import { spansOnSheet } from "../../3-resample/sheet.js";
import { columnsOf, planeRow, rowsOf } from "../../core/plane.js";
import type { ResolvedOptions } from "../../options/options.js";

/**
 * Black and white points of automatic levels. Only engraved pixels count: those within the crop, the frame and the oval, weighted
 * by their opacity. Pixels in the vignette and under the border count in full. On the whole sheet of a
 * cone, only the photo within the sheet counts.
 */
export function blackAndWhitePoints(
  photo: Photo,
  frame: Frame,
  { oval, clipPercent }: ResolvedOptions,
): ToneEnds {
  const { sheet, placement } = frame;
  if (sheet && !sheet.picture) return pointsOnSheet(photo, sheet, clipPercent);
  const { window } = sheet ?? frame;
  const sourceColumns = columnsOf(photo.luminance);
  // A frame rounded to whole pixels cuts off up to half a pixel. The filter sees that part, so it counts.
  const slackAcross = window.height / placement.rows / 2;
  const top = Math.max(0, Math.round(window.top - slackAcross));
  const bottom = Math.min(rowsOf(photo.luminance), Math.round(window.top + window.height + slackAcross));
  const tones = countTones();
  for (let y = top; y < bottom; y++) {
    const half = oval ? ovalHalfWidth((y + 0.5 - window.top) / window.height) : 0.5;
    if (half === undefined) continue;
    const slackAlong = oval ? 0 : window.width / placement.columns / 2;
    const middle = window.left + window.width / 2;
    const left = Math.max(0, Math.round(middle - half * window.width - slackAlong));
    const right = Math.min(sourceColumns, Math.round(middle + half * window.width + slackAlong));
    tones.add(
      planeRow(photo.luminance, y).subarray(left, right),
      photo.opacity && planeRow(photo.opacity, y).subarray(left, right),
    );
  }
  return tones.ends(clipPercent);
}

function pointsOnSheet({ luminance, opacity }: Photo, sheet: PhotoOnSheet, clipPercent: number): ToneEnds {
  const tones = countTones();
  for (let y = 0; y < rowsOf(luminance); y++) {
    for (const [left, right] of spansOnSheet(sheet, columnsOf(luminance), y)) {
      tones.add(
        planeRow(luminance, y).subarray(left, right),
        opacity && planeRow(opacity, y).subarray(left, right),
      );
    }
  }
  return tones.ends(clipPercent);
}

/** Half the width of an oval at a height 0..1, as a share of the whole width; undefined above and below. */
function ovalHalfWidth(height: number): number | undefined {
  const square = 0.25 - (height - 0.5) ** 2;
  return square > 0 ? Math.sqrt(square) : undefined;
}
