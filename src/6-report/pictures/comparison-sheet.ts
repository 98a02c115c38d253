import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { sizeWords } from "../../core/shown-units.js";
import type { Comparison } from "../comparison.js";
import { encodePreviewPng } from "../files/preview-png.js";
import { type Column, candidateName, choicesOf } from "../words/comparison-columns.js";
import { badgesOf, headOf, shownValue, tellingFigures } from "../words/comparison-words.js";
import type { CandidatePictures } from "./candidate-pictures.js";
import {
  blankPicture,
  drawText,
  fillWith,
  frameRound,
  type Grey,
  type RgbPicture,
  textWidth,
} from "./canvas.js";

/** The figures below each picture. The rest is in the files. */
const MAIN = [
  ...["visualErrorRms", "expectedVisualError", "unevenness", "toneShift"],
  ...["graininess.mid", "heldAt0.25mm", "seconds"],
];

const MARGIN_PX = 24;
const GAP_PX = 20;
const LINE_PX = 19;
const STRIP_GAP_PX = 6;
const STAMP_PX = 22;
/** Room for a badge below the pictures, which it would hide in part. */
const BADGE_PX = STAMP_PX + 6;
/** In narrower cells, names would break into single words. */
const MIN_CELL_PX = 250;
const MAX_COLUMNS = 6;

const PAGE: Grey = 0xf6;
const INK: Grey = 0x22;
const SOFT: Grey = 0x58;
const HAIRLINE = (): Grey => 0xb0;

/** All candidates in one PNG file: each predicted piece, its enlarged marks, its name and its main figures. */
export async function comparisonSheet(
  comparison: Comparison,
  pictures: readonly CandidatePictures[],
): Promise<Uint8Array> {
  const { candidates, photo, units } = comparison;
  const small = pictures.map((each) => each.small);
  const maxOf = (of: (each: (typeof small)[number]) => number): number => Math.max(...small.map(of));
  const wide = Math.max(
    MIN_CELL_PX,
    maxOf(({ whole }) => whole.columns),
    maxOf(({ marks }) => marks.columns),
  );
  const pieceRows = maxOf(({ whole }) => whole.rows);
  const marksRows = maxOf(({ marks }) => marks.rows);
  const names = candidates.map((_, k) => broken(nameOf(comparison, k), wide));
  const nameLines = Math.max(...names.map(({ length }) => length));
  const figures = tellingFigures(comparison).filter(({ key }) => MAIN.includes(key));
  const figureColumns = columnsOfFigures(figures, candidates, wide);
  const figureLines = Math.ceil(figures.length / figureColumns);
  const pictureRows = pieceRows + STRIP_GAP_PX + marksRows;
  const high = pictureRows + BADGE_PX + LINE_PX * (nameLines + figureLines) + 8;

  const columns = columnsFor(candidates.length, wide, high);
  const rows = Math.ceil(candidates.length / columns);
  const inner = columns * wide + (columns - 1) * GAP_PX;
  const common = candidateName(candidates[0], choicesOf(candidates, false));
  const about = `${photo || "photo"}, ${sizeWords(comparison, units)}, all with ${common}`;
  const heading = [about, comparison.recommended.sentence].flatMap((text) => broken(text, inner));
  const top = MARGIN_PX + LINE_PX * heading.length + 12;
  const sheet = blankPicture(
    inner + 2 * MARGIN_PX,
    top + rows * high + (rows - 1) * GAP_PX + MARGIN_PX,
    PAGE,
  );
  write(sheet, heading, MARGIN_PX, MARGIN_PX, INK);

  candidates.forEach((one, k) => {
    const left = MARGIN_PX + (k % columns) * (wide + GAP_PX);
    const at = top + Math.floor(k / columns) * (high + GAP_PX);
    paste(sheet, small[k].whole, left, at + pieceRows - small[k].whole.rows);
    paste(sheet, small[k].marks, left, at + pieceRows + STRIP_GAP_PX);
    const badges = badgesOf(comparison, k);
    if (badges.length > 0) stamp(sheet, badges.join(", "), left, at + pictureRows + 4);
    const text = at + pictureRows + BADGE_PX + 2;
    write(sheet, names[k], left, text, INK);
    figures.forEach((column, f) => {
      const x = left + (f % figureColumns) * Math.floor(wide / figureColumns);
      const y = text + LINE_PX * (nameLines + Math.floor(f / figureColumns));
      write(sheet, [figureText(column, one)], x, y, SOFT);
    });
  });
  return encodePreviewPng(sheet);
}

const nameOf = ({ candidates }: Comparison, k: number): string =>
  `${k + 1}  ${candidateName(candidates[k], choicesOf(candidates, true)) || candidates[k].method}`;

const figureText = (column: Column, one: Comparison["candidates"][number]): string =>
  `${headOf(column)} ${shownValue(column, one) || "none"}`;

/** Two figures per line if the longest of them fits, otherwise one. */
function columnsOfFigures(
  figures: readonly Column[],
  candidates: Comparison["candidates"],
  wide: number,
): number {
  const longest = Math.max(
    ...figures.flatMap((column) => candidates.map((one) => textWidth(figureText(column, one)))),
  );
  return 2 * (longest + 12) <= wide ? 2 : 1;
}

/** The number of columns that makes a sheet about square, or a little wider. */
function columnsFor(count: number, wide: number, high: number): number {
  const columns = Math.min(count, MAX_COLUMNS, Math.ceil(Math.sqrt((1.3 * count * high) / wide)));
  // The same number of rows, filled as evenly as possible.
  return Math.ceil(count / Math.ceil(count / columns));
}

/** A text broken into lines that fit. A word that is too long for a line is cut. */
export function broken(text: string, wide: number): string[] {
  const lines = [""];
  const fits = (line: string): boolean => textWidth(line) <= wide;
  for (let word of text.split(" ")) {
    const last = lines.length - 1;
    if (lines[last] !== "" && fits(`${lines[last]} ${word}`)) {
      lines[last] += ` ${word}`;
      continue;
    }
    if (lines[last] !== "") lines.push("");
    while (!fits(word)) {
      let end = word.length - 1;
      while (end > 1 && !fits(word.slice(0, end))) end--;
      lines[lines.length - 1] = word.slice(0, end);
      lines.push("");
      word = word.slice(end);
    }
    lines[lines.length - 1] = word;
  }
  return lines;
}

/** Write lines of text; (left, top) is the upper left corner of the first. */
function write(sheet: RgbPicture, lines: readonly string[], left: number, top: number, grey: Grey): void {
  lines.forEach((line, k) => {
    drawText(sheet, line, left, top + LINE_PX * k + 13, grey);
  });
}

/** White text on dark. */
function stamp(sheet: RgbPicture, text: string, left: number, top: number): void {
  const area = { left, top, columns: textWidth(text) + 16, rows: STAMP_PX };
  fillWith(sheet, area, (_x, _y, rgb, at) => rgb.fill(INK, at, at + 3));
  drawText(sheet, text, left + 8, top + STAMP_PX - 7, 0xff);
}

function paste(sheet: RgbPicture, { columns, rows, rgb }: RgbPicture, left: number, top: number): void {
  const area: PixelRectangle = { left, top, columns, rows };
  fillWith(sheet, area, (x, y, to, at) => {
    const from = 3 * (y * columns + x);
    for (let c = 0; c < 3; c++) to[at + c] = rgb[from + c];
  });
  frameRound(sheet, area, HAIRLINE);
}
