import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { columnsOf, denseData, type Plane, partOfPlane, rowsOf } from "../../core/plane.js";
import { levelGreys } from "../../core/power-levels.js";
import type { Painter } from "./appearance.js";
import { blankPicture, drawText, fillWith, frameRound, type RgbPicture, textWidth } from "./canvas.js";
import { mostDetailed } from "./detail-crop.js";
import { dashes, enlargedSize, MARGIN_PX, MIN_INNER_PX, roomPx, scaled } from "./enlarged-part.js";
import type { PictureSize } from "./preview-size.js";

export type { RgbPicture } from "./canvas.js";
export { previewSize } from "./preview-size.js";

/** A part of the bitmap: power levels (at 2 of them 1 = burn) and predicted luminance factors, both row-major. */
export interface PreviewCrop {
  readonly pixels: Uint8Array;
  readonly predicted: Float32Array;
}

/** The content of a preview. */
export interface PreviewParts {
  /** Predicted luminance factors scaled for the screen, in true proportion; see `previewSize`. */
  readonly piece: Plane<"luminance-factor">;
  /** Size of the bitmap. */
  readonly burnColumns: number;
  readonly burnRows: number;
  /** Power levels of the bitmap. */
  readonly levels: number;
  /**
   * The part with the picture itself, in burn pixels, if it does not fill the piece. Detail is sought there and not in a border.
   */
  readonly picture?: PixelRectangle | undefined;
  /** Returns a part of the bitmap, in burn pixels. */
  readonly crop: (part: PixelRectangle) => PreviewCrop;
  readonly paint: Painter;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Caption of the whole piece; default: as predicted. */
  readonly title?: string;
  /** Shown instead of the piece on its grid. */
  readonly view?: PieceView;
}

/** A view of a piece that is not its grid. */
export interface PieceView {
  readonly columns: number;
  readonly rows: number;
  /** [rows × columns] Luminance factors; NaN beside the piece. */
  readonly luminance: Float32Array;
  readonly pxPerMm: number;
  /** The place in the view, in pixels, of a point that is given by its shares 0..1 of the grid. */
  readonly place: (along: number, across: number) => readonly [x: number, y: number];
}

const CAPTION_PX = 34;
/** Side, in burn pixels, of a cell over which dots count as a tone in the search for detail. */
const CELL_DOTS = 8;

const PAGE = 0xf6;
const INK = 0x44;
const HAIRLINE = (): number => 0xb0;

/**
 * The predicted piece, and below it its most detailed part twice, enlarged so that single dots are visible: the pixels that burn,
 * black on white, and the marks they leave. A dashed frame on the piece shows the place of that part.
 */
export function composePreview(parts: PreviewParts): RgbPicture {
  const { view } = parts;
  const pieceColumns = view?.columns ?? columnsOf(parts.piece);
  const pieceRows = view?.rows ?? rowsOf(parts.piece);
  const innerColumns = Math.max(pieceColumns, MIN_INNER_PX);
  const room = roomPx(pieceColumns);
  const strip = stripFor(parts, room);
  const picture = blankPicture(
    innerColumns + 2 * MARGIN_PX,
    pieceRows + strip.rows + 2 * MARGIN_PX + 2 * CAPTION_PX,
    PAGE,
  );

  const piece = pieceOnPreview({ columns: pieceColumns, rows: pieceRows });
  const seen = view?.luminance ?? denseData(parts.piece);
  fillWith(picture, piece, (x, y, rgb, at) => {
    const luminance = seen[y * pieceColumns + x];
    if (!Number.isNaN(luminance)) parts.paint(luminance, rgb, at);
  });
  if (!view) frameRound(picture, piece, HAIRLINE);
  const title = parts.title ?? "the piece as predicted";
  caption(picture, piece, title, view?.pxPerMm ?? pieceColumns / parts.widthMm);

  const { cropAt, pxPerMm, source } = strip;
  const { pixels, predicted } = parts.crop(source);
  const greys = levelGreys(parts.levels);
  const dots = { ...strip, left: MARGIN_PX, top: MARGIN_PX + pieceRows + CAPTION_PX };
  fillWith(picture, dots, (x, y, rgb, at) => rgb.fill(greys[pixels[cropAt(x, y)]], at, at + 3));
  frameRound(picture, dots, HAIRLINE);
  caption(picture, dots, parts.levels === 2 ? "pixels that burn, in black" : "power, full in black");

  const marks = { ...dots, left: MARGIN_PX + innerColumns - room };
  fillWith(picture, marks, (x, y, rgb, at) => parts.paint(predicted[cropAt(x, y)], rgb, at));
  frameRound(picture, marks, HAIRLINE);
  caption(picture, marks, "the marks they leave", pxPerMm);

  if (source.isWhole) return picture;
  if (view) dashOnView(picture, parts, view, source, piece);
  else frameRound(picture, onPiece(parts, source, piece), dashes);
  return picture;
}

/** The place of the piece on a preview. */
export const pieceOnPreview = ({ columns, rows }: PictureSize): PixelRectangle => ({
  left: MARGIN_PX + ((Math.max(columns, MIN_INNER_PX) - columns) >> 1),
  top: MARGIN_PX,
  columns,
  rows,
});

/** The part of the bitmap in the strip, its size on the screen, and the place in the crop for each screen pixel. */
interface Strip {
  readonly columns: number;
  readonly rows: number;
  /** Along the lines. */
  readonly pxPerMm: number;
  readonly source: PixelRectangle & { readonly isWhole: boolean };
  readonly cropAt: (x: number, y: number) => number;
}

function stripFor(parts: PreviewParts, room: number): Strip {
  const { piece, burnColumns, burnRows } = parts;
  const { columns, rows, shown, stepX, stepY, pxPerMm } = enlargedSize(parts, room);
  const alongScale = columnsOf(piece) / burnColumns;
  const acrossScale = rowsOf(piece) / burnRows;
  const cellPx = Math.max(1, Math.round(CELL_DOTS * Math.max(alongScale, acrossScale)));
  const whole = { left: 0, top: 0, columns: burnColumns, rows: burnRows };
  const within = scaled(parts.picture ?? whole, alongScale, acrossScale);
  const place = mostDetailed(
    denseData(partOfPlane(piece, within.left, within.top, within.columns, within.rows)),
    within.columns,
    within.rows,
    { columns: columns * alongScale, rows: rows * acrossScale },
    cellPx,
  );
  const left = Math.min(burnColumns - columns, Math.round((within.left + place.left) / alongScale));
  const top = Math.min(burnRows - rows, Math.round((within.top + place.top) / acrossScale));
  return {
    ...shown,
    pxPerMm,
    source: { left, top, columns, rows, isWhole: columns === burnColumns && rows === burnRows },
    cropAt: (x, y) => Math.floor(y / stepY) * columns + Math.floor(x / stepX),
  };
}

/** A rectangle of burn pixels in pixels of the preview. */
function onPiece(
  { burnColumns, burnRows }: PreviewParts,
  source: PixelRectangle,
  piece: PixelRectangle,
): PixelRectangle {
  const alongScale = piece.columns / burnColumns;
  const acrossScale = piece.rows / burnRows;
  const { left, top, columns, rows } = scaled(source, alongScale, acrossScale);
  return { left: piece.left + left, top: piece.top + top, columns, rows };
}

/** The dashed outline of a rectangle of burn pixels, bent like the view. */
function dashOnView(
  picture: RgbPicture,
  { burnColumns, burnRows }: PreviewParts,
  view: PieceView,
  { left, top, columns, rows }: PixelRectangle,
  piece: PixelRectangle,
): void {
  const corners = [
    [left, top],
    [left + columns, top],
    [left + columns, top + rows],
    [left, top + rows],
  ];
  corners.forEach(([fromX, fromY], k) => {
    const [toX, toY] = corners[(k + 1) % corners.length];
    const steps = 2 * Math.ceil(Math.max(Math.abs(toX - fromX), Math.abs(toY - fromY)));
    for (let n = 0; n < steps; n++) {
      const [along, across] = [fromX + ((toX - fromX) * n) / steps, fromY + ((toY - fromY) * n) / steps];
      const [x, y] = view.place(along / burnColumns, across / burnRows).map(Math.floor);
      if (x < 0 || y < 0 || x >= piece.columns || y >= piece.rows) continue;
      const at = 3 * ((piece.top + y) * picture.columns + piece.left + x);
      picture.rgb.fill(dashes(x + y), at, at + 3);
    }
  });
}

const MAX_BAR_PX = 100;
const BAR_GAP_PX = 22;

/** A line below a panel: its caption, and with `pxPerMm` a scale bar. */
function caption(picture: RgbPicture, panel: PixelRectangle, text: string, pxPerMm?: number): void {
  const baseline = panel.top + panel.rows + 19;
  drawText(picture, text, panel.left, baseline, INK);
  if (pxPerMm === undefined) return;
  const mm = barLengthMm(pxPerMm);
  const columns = Math.round(mm * pxPerMm);
  const left = panel.left + textWidth(text) + BAR_GAP_PX;
  const ink = (_x: number, _y: number, rgb: Uint8Array, at: number) => rgb.fill(INK, at, at + 3);
  const middle = baseline - 4;
  fillWith(picture, { left, top: middle, columns, rows: 1 }, ink);
  fillWith(picture, { left, top: middle - 3, columns: 1, rows: 7 }, ink);
  fillWith(picture, { left: left + columns - 1, top: middle - 3, columns: 1, rows: 7 }, ink);
  drawText(picture, `${mm} mm`, left + columns + 8, baseline, INK);
}

/** The longest of 1, 2, 5, 10 … mm that fits beside a caption. */
export function barLengthMm(pxPerMm: number): number {
  const max = MAX_BAR_PX / pxPerMm;
  const decade = 10 ** Math.floor(Math.log10(max));
  const step = [5, 2].find((multiple) => multiple * decade <= max) ?? 1;
  return Number((step * decade).toPrecision(1));
}
