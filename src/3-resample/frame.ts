import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { Pitch } from "../core/plane.js";
import { lengthMmFromPitchCount, pitchCountFromLengthMm } from "../core/units.js";
import type { Circles } from "../core/wrap.js";
import type { PixelPoint } from "./crop.js";
import type { PhotoOnSheet } from "./photo-on-sheet.js";
import type { SourceWindow } from "./source-window.js";

/**
 * How a picture fits a box of another shape: `cover` fills the box and crops the rest, `contain` shows the whole picture and
 * leaves bare surface beside it, `stretch` distorts.
 */
export const fits = ["cover", "contain", "stretch"] as const;

export interface FrameRequest {
  /** Size of the source after its orientation is applied. Source pixels are square. */
  readonly sourceColumns: number;
  readonly sourceRows: number;
  /** Wanted size. At least one side; the other then follows from the source. */
  readonly widthMm?: number | undefined;
  readonly heightMm?: number | undefined;
  /** Used only with both sides. Default `cover`. */
  readonly fit?: (typeof fits)[number] | undefined;
  /** Point of the source that `cover` keeps as near to the middle as possible. Default: its middle. */
  readonly focus?: PixelPoint | undefined;
  readonly pitch: Pitch;
  /** True if the last and the first pixel of a row are neighbours: the width goes once round the piece. Default false. */
  readonly closed?: boolean | undefined;
}

export interface Frame {
  /** Size of the bitmap; `widthMm` and `heightMm` are its true size. */
  readonly columns: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The part of the source to resample onto `placement`. */
  readonly window: SourceWindow;
  /** Place of the picture in the bitmap: all of it, except with `contain`. Around it the surface stays bare. */
  readonly placement: PixelRectangle;
  /** True if the picture goes all the way round, so that its left and right sides are neighbours. */
  readonly closed: boolean;
  /** For an undistorted cone: how the photo lies on the unrolled sheet. `window` is then the whole grid of the sheet. */
  readonly sheet?: PhotoOnSheet;
  /** Of a round piece. */
  readonly circles?: Circles;
  /** Of a picture on a part of a round piece. */
  readonly placed?: PlacedPicture;
}

/** A picture on a part of a round piece. Lengths are measured down the surface. */
export interface PlacedPicture {
  /** The picture itself. A bent bitmap is larger. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** From the rim to the top of the picture on its middle line, and to the upper edge of the bitmap; absent if nobody knows. */
  readonly fromRim?: { readonly pictureMm: number; readonly bitmapMm: number };
  /** Width of the bitmap, as a share of a whole turn. */
  readonly turn: number;
}

/**
 * Lays a picture on the engraving grid. Sizes are rounded to whole pixels, at least one. With `cover`, or with one side given, the
 * window is the largest one with exactly the shape of the rounded size, in the middle or around the focus. So rounding crops less
 * than half a pixel per side and never distorts. With `contain` the placement is rounded too, which stretches the picture by at
 * most half a pixel.
 *
 * On a round piece the window is a whole number of source pixels wide, so that the picture repeats exactly. If only the width is
 * given, the window is the whole picture. Both stretch the picture by at most half a pixel of the source or of the grid.
 */
export function frameJob(request: FrameRequest): Frame {
  const { sourceColumns, sourceRows, pitch } = request;
  const { widthMm: wantedWidthMm, heightMm: wantedHeightMm } = wantedSizeMm(request);
  const columns = wholePixels(wantedWidthMm, pitch.alongMm);
  const rows = wholePixels(wantedHeightMm, pitch.acrossMm);
  const widthMm = lengthMmFromPitchCount(columns, pitch.alongMm);
  const heightMm = lengthMmFromPitchCount(rows, pitch.acrossMm);

  const { closed = false } = request;
  const bothWanted = request.widthMm !== undefined && request.heightMm !== undefined;
  const fit = bothWanted ? (request.fit ?? "cover") : "cover";
  const wholeSource = { left: 0, top: 0, width: sourceColumns, height: sourceRows };
  const wholeBitmap = { left: 0, top: 0, columns, rows };
  const size = { columns, rows, widthMm, heightMm, closed };
  if (fit === "stretch" || (closed && !bothWanted)) {
    return { ...size, window: wholeSource, placement: wholeBitmap };
  }
  if (fit === "cover") {
    const window = largestWindow(sourceColumns, sourceRows, widthMm / heightMm, request.focus);
    return { ...size, window: closed ? wholeColumns(window, sourceColumns) : window, placement: wholeBitmap };
  }
  const mmPerSourcePixel = Math.min(widthMm / sourceColumns, heightMm / sourceRows);
  const placedColumns = Math.min(columns, wholePixels(sourceColumns * mmPerSourcePixel, pitch.alongMm));
  const placedRows = Math.min(rows, wholePixels(sourceRows * mmPerSourcePixel, pitch.acrossMm));
  const placement = {
    left: Math.floor((columns - placedColumns) / 2),
    top: Math.floor((rows - placedRows) / 2),
    columns: placedColumns,
    rows: placedRows,
  };
  return { ...size, closed: closed && placedColumns === columns, window: wholeSource, placement };
}

function wantedSizeMm({ sourceColumns, sourceRows, widthMm, heightMm }: FrameRequest) {
  return {
    widthMm: widthMm ?? ((heightMm ?? Number.NaN) * sourceColumns) / sourceRows,
    heightMm: heightMm ?? ((widthMm ?? Number.NaN) * sourceRows) / sourceColumns,
  };
}

/** The nearest whole number of pixels, at least 1. */
export function wholePixels(lengthMm: number, pitchMm: number): number {
  return Math.max(1, Math.round(pitchCountFromLengthMm(lengthMm, pitchMm)));
}

/** The largest window with this width over height in the source, with its middle as near to the focus as possible. */
function largestWindow(
  sourceColumns: number,
  sourceRows: number,
  aspect: number,
  focus: PixelPoint = { x: sourceColumns / 2, y: sourceRows / 2 },
): SourceWindow {
  const width = Math.min(sourceColumns, sourceRows * aspect);
  const height = Math.min(sourceRows, sourceColumns / aspect);
  return {
    left: startNear(focus.x, width, sourceColumns),
    top: startNear(focus.y, height, sourceRows),
    width,
    height,
  };
}

/** Start of an interval within 0..whole whose middle is as near to `middle` as possible. */
const startNear = (middle: number, length: number, whole: number): number =>
  Math.min(Math.max((2 * middle - length) / 2, 0), whole - length);

/** The window rounded to a whole number of source pixels, with its middle in nearly the same place. */
function wholeColumns(window: SourceWindow, sourceColumns: number): SourceWindow {
  const width = Math.max(1, Math.round(window.width));
  const left = Math.floor(startNear(window.left + window.width / 2, width, sourceColumns));
  return { ...window, left, width };
}

/** The placement in a bitmap that is mirrored left to right. */
export const mirroredPlacement = (placement: PixelRectangle, columns: number): PixelRectangle => ({
  ...placement,
  left: columns - placement.left - placement.columns,
});
