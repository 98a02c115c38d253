import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { CandidatePictures } from "./candidate-pictures.js";
import { blankPicture, drawText, fillWith, frameRound, type RgbPicture, textWidth } from "./canvas.js";
import type { Candidate, Comparison } from "./comparison.js";
import { candidateName, choicesOf } from "./comparison-columns.js";

type SmallPictures = CandidatePictures["small"];

const MARGIN_PX = 28;
const GUTTER_PX = 28;
const LINE_PX = 20;
/** From the top of a line to its baseline. */
const ASCENT_PX = 13;
const BETWEEN_PX = 8;
/** Between a card's frame and what is in it. */
const PADDING_PX = 10;
/** The sheet is about so many times as wide as high: as screens and turned paper are. */
const SHAPE = 1.4;

const PAPER = 0xf6;
const INK = 0x22;
const SOFT = 0x66;
const HAIRLINE = 0xb0;

/** What the winners have won, for those who read the sheet alone. */
const WON = {
  nominal: "least error at the set dose",
  robust: "least error over the dose spread",
  fast: "quickest of the good ones",
} as const;

/** The same photo prepared in several ways, as one picture: each predicted piece, its marks enlarged, and the figures that matter. */
export function comparisonSheet(comparison: Comparison, pictures: readonly SmallPictures[]): RgbPicture {
  const { candidates } = comparison;
  const widest = Math.max(...pictures.map(({ whole, marks }) => Math.max(whole.columns, marks.columns)));
  const room = Math.max(...pictures.map(({ whole }) => whole.rows));
  const strip = Math.max(...pictures.map(({ marks }) => marks.rows));
  const texts = candidates.map((one, k) => cardLines(comparison, one, k, widest));
  const textRows = Math.max(...texts.map(({ length }) => length)) * LINE_PX;
  const card = {
    columns: widest + 2 * PADDING_PX,
    rows: room + BETWEEN_PX + strip + BETWEEN_PX + textRows + 2 * PADDING_PX,
  };
  const across = cardsAcross(candidates.length, card);
  const down = Math.ceil(candidates.length / across);
  const columns = 2 * MARGIN_PX + across * card.columns + (across - 1) * GUTTER_PX;
  const heads = wrapped(headWords(comparison), columns - 2 * MARGIN_PX);
  const top = MARGIN_PX + heads.length * LINE_PX + BETWEEN_PX;
  const sheet = blankPicture(columns, top + down * (card.rows + GUTTER_PX), PAPER);
  heads.forEach((line, i) => {
    drawText(sheet, line, MARGIN_PX, MARGIN_PX + i * LINE_PX + ASCENT_PX, INK);
  });
  candidates.forEach((_, k) => {
    const place: PixelRectangle = {
      left: MARGIN_PX + (k % across) * (card.columns + GUTTER_PX),
      top: top + Math.floor(k / across) * (card.rows + GUTTER_PX),
      ...card,
    };
    const won = Object.values(comparison.winners).includes(k);
    frame(sheet, place, won);
    const middle = (picture: RgbPicture, at: number): void => {
      const left = place.left + ((card.columns - picture.columns) >> 1);
      paste(sheet, picture, left, place.top + PADDING_PX + at);
    };
    middle(pictures[k].whole, (room - pictures[k].whole.rows) >> 1);
    middle(pictures[k].marks, room + BETWEEN_PX);
    const textTop = place.top + PADDING_PX + room + BETWEEN_PX + strip + BETWEEN_PX;
    texts[k].forEach(({ words, grey }, i) => {
      drawText(sheet, words, place.left + PADDING_PX, textTop + i * LINE_PX + ASCENT_PX, grey);
    });
  });
  return sheet;
}

/** So many stand side by side in any case. */
const ONE_ROW = 3;

/** As many cards side by side as bring the sheet near its shape, with rows as even as they can be. */
function cardsAcross(count: number, card: { readonly columns: number; readonly rows: number }): number {
  if (count <= ONE_ROW) return count;
  const across = Math.round(Math.sqrt((count * card.rows * SHAPE) / card.columns));
  const down = Math.ceil(count / Math.min(count, Math.max(1, across)));
  return Math.ceil(count / down);
}

function headWords({ photo, widthMm, heightMm, candidates }: Comparison): string {
  const alike = candidateName(candidates[0], choicesOf(candidates, false));
  const what = photo === "" ? "" : `${photo}, `;
  return lower(`${what}${size(widthMm)} x ${size(heightMm)} mm, ${alike}`);
}

/** To a tenth, without a point for nothing. */
const size = (mm: number): string => String(Math.round(10 * mm) / 10);

/** The lettering has small letters only. */
const lower = (words: string): string => words.toLowerCase();

interface CardLine {
  readonly words: string;
  readonly grey: number;
}

function cardLines(
  { candidates, winners }: Comparison,
  one: Candidate,
  k: number,
  widthPx: number,
): CardLine[] {
  const differing = choicesOf(candidates, true);
  const name = lower(candidateName(one, differing.length > 0 ? differing : choicesOf(candidates, false)));
  const held = (detailMm: number): string => {
    const tones = one.tonalResolution.find((each) => each.detailMm === detailMm)?.held ?? Number.NaN;
    return tones <= (one.differentTints ?? Number.POSITIVE_INFINITY) ? String(Math.floor(tones)) : "-";
  };
  const won = (Object.keys(WON) as (keyof typeof WON)[]).filter((what) => winners[what] === k);
  return [
    ...wrapped(name, widthPx).map((words) => ({ words, grey: INK })),
    ...[
      `error ${one.visualErrorRms.toFixed(2)}, expected ${one.expectedVisualError.toFixed(2)} L*`,
      `tones held ${held(0.25)} in 0.25 mm, ${held(1)} in 1 mm`,
      `run time ${(one.seconds / 60).toFixed(1)} min`,
    ].map((words) => ({ words, grey: SOFT })),
    ...won.map((what) => ({ words: `* ${WON[what]}`, grey: INK })),
  ];
}

/** Words on lines that are not wider than that; a word that is gets cut. */
function wrapped(text: string, widthPx: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (line !== "" && textWidth(longer) > widthPx) {
      lines.push(line);
      line = word;
    } else line = longer;
    while (textWidth(line) > widthPx && line.length > 1) {
      let fits = line.length - 1;
      while (fits > 1 && textWidth(line.slice(0, fits)) > widthPx) fits--;
      lines.push(line.slice(0, fits));
      line = line.slice(fits);
    }
  }
  return [...lines, line];
}

/** Winners have a heavier frame. */
function frame(sheet: RgbPicture, place: PixelRectangle, won: boolean): void {
  for (let inset = 0; inset < (won ? 3 : 1); inset++) {
    const inner = {
      left: place.left + inset,
      top: place.top + inset,
      columns: place.columns - 2 * inset,
      rows: place.rows - 2 * inset,
    };
    frameRound(sheet, inner, () => (won ? INK : HAIRLINE));
  }
}

function paste(sheet: RgbPicture, picture: RgbPicture, left: number, top: number): void {
  const { columns, rows, rgb: from } = picture;
  fillWith(sheet, { left, top, columns, rows }, (x, y, rgb, at) => {
    const source = 3 * (y * columns + x);
    rgb.set(from.subarray(source, source + 3), at);
  });
}
