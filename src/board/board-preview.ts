import {
  blankPicture,
  drawText,
  fillWith,
  frameRound,
  type RgbPicture,
  textWidth,
} from "../6-report/pictures/canvas.js";
import { pieceOfPreview } from "../6-report/pictures/piece-of-preview.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { BoardLayout, BoardPiece, Place } from "./board-piece.js";
import { drawableName } from "./drawable-name.js";

const LONGER_SIDE_PX = 1600;
const MAX_PX_PER_MM = 8;
const MARGIN_PX = 24;
const LINE_PX = 18;
const COLUMN_PX = 300;
const PAGE = 0xf6;
const INK = 0x22;
const HAIRLINE = (): number => 0x90;

/** A name of many copies, or a long one, ends in this. */
const CUT = "...";

/**
 * A board as it will look: each piece as its own preview shows it, with the number that the list below names. Only pieces and the board
 * at screen size are ever in memory.
 *
 * @param previewOf the bytes of a piece's preview file
 */
export async function boardPreview(
  layout: BoardLayout,
  previewOf: (piece: BoardPiece) => Promise<Uint8Array>,
): Promise<RgbPicture> {
  const { setting, columns, rows, places } = layout;
  const widthMm = columns * setting.pitch.alongMm;
  const heightMm = rows * setting.pitch.acrossMm;
  const pxPerMm = Math.min(MAX_PX_PER_MM, LONGER_SIDE_PX / Math.max(widthMm, heightMm));
  const scale = { along: setting.pitch.alongMm * pxPerMm, across: setting.pitch.acrossMm * pxPerMm };
  const board = onScreen({ left: 0, top: 0, columns, rows }, scale);
  const lines = legend(places);
  const perRow = Math.max(1, Math.floor(board.columns / COLUMN_PX));
  const picture = blankPicture(
    board.columns + 2 * MARGIN_PX,
    board.rows + 3 * MARGIN_PX + LINE_PX * Math.ceil(lines.length / perRow),
    PAGE,
  );
  const bare = [1, 3, 5].map((at) => Number.parseInt(setting.bareColor.slice(at, at + 2), 16));
  fillWith(picture, board, (_x, _y, rgb, at) => rgb.set(bare, at));
  frameRound(picture, board, HAIRLINE);
  await drawPieces(picture, places, scale, previewOf);
  for (const [i, place] of places.entries())
    drawLabel(picture, areaOf(place, scale), `${i + 1}`, drawableName(place.piece.name));
  for (const [i, line] of lines.entries()) {
    const left = MARGIN_PX + (i % perRow) * COLUMN_PX;
    const baseline = board.top + board.rows + MARGIN_PX + LINE_PX * Math.floor(i / perRow);
    drawText(picture, fitting(line, COLUMN_PX - 2 * LINE_PX), left, baseline, INK);
  }
  return picture;
}

interface Scale {
  readonly along: number;
  readonly across: number;
}

async function drawPieces(
  picture: RgbPicture,
  places: readonly Place[],
  scale: Scale,
  previewOf: (piece: BoardPiece) => Promise<Uint8Array>,
): Promise<void> {
  const copies = new Map<BoardPiece, Place[]>();
  for (const place of places) copies.set(place.piece, [...(copies.get(place.piece) ?? []), place]);
  for (const [piece, all] of copies) {
    const { columns, rows } = areaOf({ ...all[0], left: 0, top: 0 }, scale);
    const seen = await pieceAt(await previewOf(piece), piece, columns, rows);
    for (const place of all) {
      const area = { ...areaOf(place, scale), columns, rows };
      fillWith(picture, area, (x, y, rgb, at) => {
        const from = 3 * (y * columns + x);
        rgb.set(seen.subarray(from, from + 3), at);
      });
      frameRound(picture, area, HAIRLINE);
    }
  }
}

/** The piece itself in the size that it has on the preview of the board. */
async function pieceAt(
  preview: Uint8Array,
  { columns, rows, setting }: BoardPiece,
  width: number,
  height: number,
): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  const { alongMm, acrossMm } = setting.pitch;
  const size = {
    burnColumns: columns,
    burnRows: rows,
    widthMm: columns * alongMm,
    heightMm: rows * acrossMm,
  };
  const piece = await pieceOfPreview(preview, size);
  return sharp(piece.rgb, { raw: { width: piece.columns, height: piece.rows, channels: 3 } })
    .resize({ width, height, fit: "fill" })
    .raw()
    .toBuffer();
}

const areaOf = ({ left, top, piece: { columns, rows } }: Place, scale: Scale): PixelRectangle =>
  onScreen({ left, top, columns, rows }, scale);

const onScreen = (
  { left, top, columns, rows }: PixelRectangle,
  { along, across }: Scale,
): PixelRectangle => ({
  left: MARGIN_PX + Math.floor(left * along),
  top: MARGIN_PX + Math.floor(top * across),
  columns: Math.max(1, Math.floor(columns * along)),
  rows: Math.max(1, Math.floor(rows * across)),
});

/** Number and name on a pale strip at the top of a piece, as far as it is wide enough: a text of the piece stands at its foot. */
function drawLabel(picture: RgbPicture, area: PixelRectangle, number: string, name: string): void {
  const room = area.columns - 6;
  const text = fitting(`${number} ${name}`, room);
  const shown = text.startsWith(number) ? text : number;
  if (textWidth(shown) > room || area.rows < 2 * LINE_PX) return;
  const strip = {
    left: area.left,
    top: area.top,
    columns: textWidth(shown) + 6,
    rows: LINE_PX,
  };
  fillWith(picture, strip, (_x, _y, rgb, at) => rgb.fill(PAGE, at, at + 3));
  drawText(picture, shown, strip.left + 3, strip.top + LINE_PX - 5, INK);
}

/** The text, or as much of its beginning as there is room for. */
function fitting(text: string, room: number): string {
  if (textWidth(text) <= room) return text;
  const signs = [...text];
  while (signs.length > 0 && textWidth(signs.join("") + CUT) > room) signs.pop();
  return signs.length > 0 ? signs.join("") + CUT : "";
}

/** One line for each piece: `1, 2, 5 boat.jpg`, runs as `1-12 boat.jpg`. */
export function legend(places: readonly Place[]): string[] {
  const numbers = new Map<string, number[]>();
  for (const [i, { piece }] of places.entries()) {
    numbers.set(piece.name, [...(numbers.get(piece.name) ?? []), i + 1]);
  }
  return [...numbers].map(([name, of]) => `${runs(of)}  ${drawableName(name)}`);
}

function runs(numbers: readonly number[]): string {
  const parts: [from: number, to: number][] = [];
  for (const each of numbers) {
    const last = parts.at(-1);
    if (last && last[1] === each - 1) last[1] = each;
    else parts.push([each, each]);
  }
  return parts.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(", ");
}
