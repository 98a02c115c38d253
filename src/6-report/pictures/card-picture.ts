import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { Painter } from "./appearance.js";
import { blankPicture, drawText, fillWith, frameRound, type RgbPicture, textWidth } from "./canvas.js";

/** An area in mm from the upper left corner of a card. */
export interface CardArea {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A patch as the preview shows it. */
export interface PicturedPatch extends CardArea {
  /** Its place as on a chessboard, letters and digits. */
  readonly id: string;
  /** Written into it. */
  readonly label: string;
  /** Luminance factor. */
  readonly tone: number;
}

/** What the preview of a card shows. */
export interface PicturedCard {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly patches: readonly PicturedPatch[];
  /** Frame, corners and code: what burns in full, and then what stays bare inside it. */
  readonly burned: readonly CardArea[];
  readonly bare: readonly CardArea[];
  readonly code: {
    readonly area: CardArea;
    readonly side: number;
    readonly modules: Uint8Array;
  };
  readonly bareTone: number;
  readonly solidTone: number;
  readonly paint: Painter;
}

const LONGER_SIDE_PX = 1300;
/** Enough for a label in a patch; a small card need not be larger than life by more. */
const [LEAST_PX_PER_MM, MOST_PX_PER_MM] = [12, 24];
/** Bare material round the card. */
const ROUND_PX = 40;
const MARGIN_PX = 16;
const PAGE = 0xf6;
const HAIRLINE = (): number => 0xb0;
/** From the middle of a line of text to its baseline. */
const HALF_LETTER_PX = 4;
const [DARK, LIGHT] = [0x10, 0xf4];
/** Of the sRGB green, above which dark letters are easier to read. */
const MIDDLE = 128;

/**
 * The card as it may come out, in the material's colours, with its places round it as on a chessboard and the number of its
 * pattern in each patch.
 */
export function cardPicture(card: PicturedCard): RgbPicture {
  const pxPerMm = scaleOf(card);
  const ground: PixelRectangle = {
    ...{ left: MARGIN_PX, top: MARGIN_PX },
    columns: Math.round(card.widthMm * pxPerMm) + 2 * ROUND_PX,
    rows: Math.round(card.heightMm * pxPerMm) + 2 * ROUND_PX,
  };
  const picture = blankPicture(ground.columns + 2 * MARGIN_PX, ground.rows + 2 * MARGIN_PX, PAGE);
  const at = (area: CardArea): PixelRectangle => placed(area, pxPerMm, MARGIN_PX + ROUND_PX);
  const paint = (area: PixelRectangle, tone: number): void =>
    fillWith(picture, area, (_x, _y, rgb, i) => card.paint(tone, rgb, i));
  paint(ground, card.bareTone);
  frameRound(picture, ground, HAIRLINE);
  for (const area of card.burned) paint(at(area), card.solidTone);
  for (const area of card.bare) paint(at(area), card.bareTone);
  for (const area of codeAreas(card.code)) paint(at(area), card.solidTone);
  for (const patch of card.patches) {
    paint(at(patch), patch.tone);
    label(picture, patch.label, at(patch));
  }
  drawPlaces(picture, card, at);
  return picture;
}

const scaleOf = ({ widthMm, heightMm }: PicturedCard): number =>
  Math.min(
    MOST_PX_PER_MM,
    Math.max(LEAST_PX_PER_MM, Math.round(LONGER_SIDE_PX / Math.max(widthMm, heightMm))),
  );

function placed(
  { leftMm, topMm, widthMm, heightMm }: CardArea,
  pxPerMm: number,
  edgePx: number,
): PixelRectangle {
  const left = Math.round(leftMm * pxPerMm);
  const top = Math.round(topMm * pxPerMm);
  return {
    ...{ left: edgePx + left, top: edgePx + top },
    columns: Math.round((leftMm + widthMm) * pxPerMm) - left,
    rows: Math.round((topMm + heightMm) * pxPerMm) - top,
  };
}

function codeAreas({ area, side, modules }: PicturedCard["code"]): CardArea[] {
  const [widthMm, heightMm] = [area.widthMm / side, area.heightMm / side];
  const areas: CardArea[] = [];
  modules.forEach((module, i) => {
    if (module === 0) return;
    const leftMm = area.leftMm + (i % side) * widthMm;
    areas.push({ leftMm, topMm: area.topMm + Math.floor(i / side) * heightMm, widthMm, heightMm });
  });
  return areas;
}

/** Letters above and below the columns, numbers beside the rows. */
function drawPlaces(picture: RgbPicture, card: PicturedCard, at: (area: CardArea) => PixelRectangle): void {
  const whole = at({ leftMm: 0, topMm: 0, widthMm: card.widthMm, heightMm: card.heightMm });
  const columns = new Map<string, PixelRectangle>();
  const rows = new Map<string, PixelRectangle>();
  for (const patch of card.patches) {
    const [, letters, digits] = /^([a-z]+)(\d+)$/.exec(patch.id) ?? ["", "", ""];
    columns.set(letters, at(patch));
    rows.set(digits, at(patch));
  }
  for (const [name, { left, columns: width }] of columns) {
    for (const top of [whole.top - ROUND_PX, whole.top + whole.rows]) {
      label(picture, name, { left, top, columns: width, rows: ROUND_PX });
    }
  }
  for (const [name, { top, rows: height }] of rows) {
    for (const left of [whole.left - ROUND_PX, whole.left + whole.columns]) {
      label(picture, name, { left, top, columns: ROUND_PX, rows: height });
    }
  }
}

/** A text in the middle of an area, dark on a light ground and light on a dark one. */
function label(picture: RgbPicture, text: string, { left, top, columns, rows }: PixelRectangle): void {
  const [x, y] = [Math.round(left + columns / 2), Math.round(top + rows / 2)];
  const ink = picture.rgb[3 * (y * picture.columns + x) + 1] > MIDDLE ? DARK : LIGHT;
  drawText(picture, text, Math.round(x - textWidth(text) / 2), y + HALF_LETTER_PX, ink);
}
