import type { Frame } from "../../3-resample/frame.js";
import type { BitmapTexture } from "../../6-report/files/deflate.js";
import { materialPainter, type Painter } from "../../6-report/pictures/appearance.js";
import { coneView } from "../../6-report/pictures/cone-view.js";
import { paintedPicture } from "../../6-report/pictures/page-picture.js";
import {
  composePreview,
  type PieceView,
  type PreviewCrop,
  previewSize,
  type RgbPicture,
} from "../../6-report/pictures/preview.js";
import { type PackedBitmap, unpackArea } from "../../core/packed-bits.js";
import { frustum } from "../../core/physics/frustum.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { plane } from "../../core/plane.js";
import { mirrorPlane, type PlaneRows, planeOfRows } from "../../core/plane-rows.js";
import { type Circles, isCone } from "../../core/wrap.js";
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
  const predicted = predictedRows(job, bitmap, frame);
  const onScreen = pieceOnScreen(job, bitmap, frame, predicted);
  const piece = onScreen.values;
  const view = viewOf(frame, onScreen);
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
    ...(frame.circles && { title: roundTitle(frame.circles) }),
    ...(view && { view }),
  });
  if (!forPage) return { preview, piece: onScreen };
  const seen = { ...onScreen, mirror: options.mirror };
  const loupe = await loupeOf(job, bitmap, frame, seen, { paint, texture: forPage });
  return {
    preview,
    piece: onScreen,
    page: {
      predicted: paintedPicture(piece, onScreen.columns, onScreen.rows, paint),
      ...(view && { unrolled: paintedView(view, paint, job.model.bare) }),
      loupe,
    },
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

/** A cone is shown unrolled; a cylinder looks like its bitmap. */
function viewOf(
  { circles, placed, heightMm, widthMm }: Frame,
  piece: ReturnType<typeof pieceOnScreen>,
): PieceView | undefined {
  if (!circles || !isCone(circles)) return undefined;
  const cone = frustum(circles.topMm, circles.bottomMm, heightMm);
  const turn = placed?.turn ?? 1;
  return coneView(piece, { cone, angleRad: turn * cone.sectorAngleRad }, piece.columns / widthMm);
}

const roundTitle = (circles: Circles): string => {
  const what = isCone(circles) ? "the cone unrolled" : "the piece unrolled";
  const sides = isCone(circles) ? "straight edges" : "left and right edges";
  return circles.ring
    ? `${what}, as predicted; its ${sides} come together on the work`
    : `${what}, as predicted`;
};

/** @param bare luminance factor of the surface beside the view, which a page cuts away */
const paintedView = ({ luminance, columns, rows }: PieceView, paint: Painter, bare: number): RgbPicture =>
  paintedPicture(
    luminance.map((value) => (Number.isNaN(value) ? bare : value)),
    columns,
    rows,
    paint,
  );

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
