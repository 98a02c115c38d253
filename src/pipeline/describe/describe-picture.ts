import type { Photo } from "../../1-photo/decode.js";
import { cropRectangle, focusPoint } from "../../3-resample/crop.js";
import type { Frame } from "../../3-resample/frame.js";
import type { PictureReport } from "../../6-report/report.js";
import { sheetAreaMm2 } from "../../core/physics/frustum.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import type { ResolvedOptions } from "../../options/options.js";
import { maskFile } from "../photo/mask.js";
import { borderOf } from "../photo/picture-outline.js";

/** The changes to the picture itself. Only those that were asked for. */
export function describePicture({ luminance }: Photo, options: ResolvedOptions): PictureReport {
  const { crop, focus, mask, oval, vignetteMm, borderMm, borderGapMm, text, textHeightMm } = options;
  const [columns, rows] = [columnsOf(luminance), rowsOf(luminance)];
  const border = borderOf(options);
  return {
    ...(crop && { crop: pxOf(cropRectangle(crop, columns, rows)) }),
    ...(focus && {
      focus: { xPx: focusPoint(focus, columns, rows).x, yPx: focusPoint(focus, columns, rows).y },
    }),
    ...(mask && { mask: maskFile(mask).fileName ?? "" }),
    ...(oval && { oval }),
    ...(vignetteMm !== undefined && { vignetteMm }),
    ...(border &&
      borderMm !== undefined && {
        border: {
          widthMm: borderMm,
          uprightPx: border.vertical.px,
          levelPx: border.horizontal.px,
          uprightMarkMm: border.vertical.markMm,
          levelMarkMm: border.horizontal.markMm,
        },
      }),
    ...(borderGapMm > 0 && { borderGapMm }),
    ...(text !== undefined && { text: { words: text, heightMm: textHeightMm } }),
  };
}

/** Share of the cropped photo that lies on the piece: 1 if nothing is cut off to fit. */
export function shownShare({ luminance }: Photo, frame: Frame, { crop }: ResolvedOptions): number {
  const kept = cropRectangle(crop, columnsOf(luminance), rowsOf(luminance));
  const { sheet } = frame;
  const { window } = sheet ?? frame;
  const shownPx =
    sheet && !sheet.picture
      ? sheetAreaMm2(sheet.frustum) * sheet.pxPerMmAlong * sheet.pxPerMmAcross
      : window.width * window.height;
  return Math.min(1, shownPx / (kept.columns * kept.rows));
}

const pxOf = ({ left, top, columns, rows }: ReturnType<typeof cropRectangle>) => ({
  leftPx: left,
  topPx: top,
  widthPx: columns,
  heightPx: rows,
});
