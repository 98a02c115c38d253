import type { Frame } from "../../3-resample/frame.js";
import type { BitmapTexture } from "../../6-report/files/deflate.js";
import { materialPainter, type Painter } from "../../6-report/pictures/appearance.js";
import { coneView } from "../../6-report/pictures/cone-view.js";
import { paintedPicture } from "../../6-report/pictures/page-picture.js";
import {
  composePreview,
  type PreviewCrop,
  type PreviewParts,
  previewSize,
} from "../../6-report/pictures/preview.js";
import type { PictureSize } from "../../6-report/pictures/preview-size.js";
import { type PackedBitmap, unpackArea } from "../../core/packed-bits.js";
import { frustum } from "../../core/physics/frustum.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { plane } from "../../core/plane.js";
import { mirrorPlane, type PlaneRows, planeOfRows } from "../../core/plane-rows.js";
import { isCone, type Wrap } from "../../core/wrap.js";
import { predictedRows } from "../burn/predicted-rows.js";
import type { Job } from "../job.js";
import { insideOutline } from "../photo/picture-outline.js";
import { loupeOf, type PieceOnScreen, type PiecePictures } from "./piece-pictures.js";
import { scaleForScreen } from "./scale-for-screen.js";

/**
 * The preview shows the piece as its owner sees it, so a mirrored bitmap is turned back. A page also gets the piece alone and its
 * dots.
 */
export async function piecePictures(
  job: Job,
  bitmap: PackedBitmap,
  frame: Frame,
  forPage?: BitmapTexture,
): Promise<PiecePictures> {
  const { options } = job;
  const predicted = predictedRows(job, bitmap);
  const onScreen = pieceOnScreen(job, bitmap, frame, predicted);
  const piece = onScreen.values;
  const paint = painterOf(job);
  const preview = composePreview({
    piece: plane("luminance-factor", piece, onScreen.rows, onScreen.columns),
    burnColumns: bitmap.columns,
    burnRows: bitmap.rows,
    levels: bitmap.levels,
    picture: insideOutline(frame, options),
    crop: (part) => cropped(bitmap, predicted, part, options.mirror),
    paint,
    widthMm: frame.widthMm,
    heightMm: frame.heightMm,
    ...(options.wrap && roundParts(options.wrap, frame, piece, onScreen)),
  });
  if (!forPage) return { preview, piece: onScreen };
  const seen = { ...onScreen, mirror: options.mirror };
  const loupe = await loupeOf(job, bitmap, seen, { paint, texture: forPage });
  return {
    preview,
    piece: onScreen,
    page: { predicted: paintedPicture(piece, onScreen.columns, onScreen.rows, paint), loupe },
  };
}

/** The whole predicted piece at screen size, as its owner sees it. */
export function pieceOnScreen(
  { memory, options }: Job,
  { columns, rows }: PackedBitmap,
  { widthMm, heightMm }: Frame,
  predicted: PlaneRows,
): PieceOnScreen {
  const size = previewSize(widthMm, heightMm, columns, rows);
  return { ...size, values: scaleForScreen(memory, { row: predicted, columns, rows }, size, options.mirror) };
}

/** Luminance factors in the material's colours. */
export function painterOf({ model, options }: Job): Painter {
  const { bareColor, markedColor } = options.material;
  return materialPainter(bareColor, markedColor, model.bare, model.response.saturated);
}

/** The preview of a round piece: a cylinder looks like its bitmap, a cone like its unrolled sheet. */
function roundParts(
  wrap: Wrap,
  { widthMm, heightMm }: Frame,
  piece: Float32Array,
  { columns, rows }: PictureSize,
): Pick<PreviewParts, "title" | "view"> {
  if (!isCone(wrap))
    return { title: "the piece unrolled, as predicted; its left and right edges come together on the work" };
  const cone = frustum(wrap.topMm, wrap.bottomMm, heightMm);
  return {
    title: "the cone unrolled, as predicted; its straight edges come together on the work",
    view: coneView(piece, columns, rows, cone, columns / widthMm),
  };
}

/** Part of the bitmap and of its prediction, as seen: `part` counts from the left of the piece, not of the bitmap. */
function cropped(
  bitmap: PackedBitmap,
  predicted: PlaneRows,
  { left, top, columns, rows }: PixelRectangle,
  mirror: boolean,
): PreviewCrop {
  const first = mirror ? bitmap.columns - left - columns : left;
  const pixels = unpackArea(bitmap, { left: first, top, columns, rows });
  const luminance = planeOfRows((y) => predicted(top + y).subarray(first, first + columns), columns, rows);
  if (mirror) {
    mirrorPlane(pixels, columns);
    mirrorPlane(luminance, columns);
  }
  return { pixels, predicted: luminance };
}
