import { refusal } from "../core/refusals/refusals.js";
import { type Font, type OutlineCommand, textFonts } from "./text-font.js";

/** A closed outline: x, y, x, y, … in mm, y downwards from the baseline. */
export type Polygon = readonly number[];

/** A line of text, from x = 0. */
export interface TextLine {
  readonly widthMm: number;
  readonly polygons: readonly Polygon[];
}

/** Straight parts of a curve. Letters of 50 mm are then right within 0.01 mm. */
const CURVE_STEPS = 16;

/**
 * A text in lines that are no wider than `widthMm`, broken between words and where the text itself has a line break. Throws
 * `OPTION_INVALID` for characters that the font does not have, and `OPTION_TOO_LARGE` for a word that is too wide.
 *
 * @param heightMm of capital letters
 */
export function textLines(text: string, heightMm: number, widthMm: number): TextLine[] {
  runsOf(text.replace(/[ \r\n]/g, "")); // all missing characters in one refusal
  const lines: TextLine[] = [];
  for (const paragraph of text.split(/\r?\n/)) {
    let line = "";
    for (const word of paragraph.split(" ").filter((each) => each !== "")) {
      const longer = line === "" ? word : `${line} ${word}`;
      if (widthOf(longer, heightMm) <= widthMm) {
        line = longer;
        continue;
      }
      if (line !== "") lines.push(lineOf(line, heightMm));
      const neededMm = widthOf(word, heightMm);
      if (neededMm > widthMm) throw refusal("text-too-wide", { word, neededMm, widthMm, heightMm });
      line = word;
    }
    lines.push(lineOf(line, heightMm));
  }
  return lines;
}

/** A part of a text in one font, or a space: the font's kerning would nearly double spaces before capital letters. */
interface Run {
  readonly text: string;
  readonly font: Font;
}

const sizeOf = (font: Font, heightMm: number): number =>
  (heightMm * font.unitsPerEm) / font.tables.os2.sCapHeight;

const widthOf = (text: string, heightMm: number): number =>
  runsOf(text).reduce((sum, { text, font }) => sum + font.getAdvanceWidth(text, sizeOf(font, heightMm)), 0);

function lineOf(text: string, heightMm: number): TextLine {
  const polygons: Polygon[] = [];
  let x = 0;
  for (const { text: part, font } of runsOf(text)) {
    const size = sizeOf(font, heightMm);
    polygons.push(...polygonsOf(font.getPath(part, x, 0, size).commands));
    x += font.getAdvanceWidth(part, size);
  }
  return { widthMm: x, polygons };
}

function runsOf(text: string): Run[] {
  const fonts = textFonts();
  const runs: { text: string; readonly font: Font }[] = [];
  const missing: string[] = [];
  for (const character of text.normalize("NFC")) {
    const font = fonts.find((each) => each.charToGlyphIndex(character) > 0);
    const last = runs.at(-1);
    if (!font) missing.push(character);
    else if (last?.font === font && character !== " " && last.text !== " ") last.text += character;
    else runs.push({ text: character, font });
  }
  if (missing.length > 0) throw refusal("text-without-glyph", { missing: [...new Set(missing)].join("") });
  return runs;
}

function polygonsOf(commands: readonly OutlineCommand[]): Polygon[] {
  const polygons: number[][] = [];
  let polygon: number[] = [];
  for (const command of commands) {
    if (command.type === "Z") continue;
    if (command.type === "M") {
      polygon = [];
      polygons.push(polygon);
    }
    const [fromX, fromY] = polygon.slice(-2);
    if (command.type === "Q") addQuadratic(polygon, [fromX, fromY], command);
    else if (command.type === "C") addCubic(polygon, [fromX, fromY], command);
    else polygon.push(command.x, command.y);
  }
  return polygons;
}

type Point = readonly [x: number, y: number];
type Quadratic = Extract<OutlineCommand, { type: "Q" }>;
type Cubic = Extract<OutlineCommand, { type: "C" }>;

function addQuadratic(polygon: number[], [fromX, fromY]: Point, { x1, y1, x, y }: Quadratic): void {
  for (let i = 1; i <= CURVE_STEPS; i++) {
    const [t, rest] = [i / CURVE_STEPS, 1 - i / CURVE_STEPS];
    const at = (a: number, b: number, c: number): number => rest * rest * a + 2 * rest * t * b + t * t * c;
    polygon.push(at(fromX, x1, x), at(fromY, y1, y));
  }
}

function addCubic(polygon: number[], [fromX, fromY]: Point, { x1, y1, x2, y2, x, y }: Cubic): void {
  for (let i = 1; i <= CURVE_STEPS; i++) {
    const [t, rest] = [i / CURVE_STEPS, 1 - i / CURVE_STEPS];
    const at = (a: number, b: number, c: number, d: number): number =>
      rest * rest * (rest * a + 3 * t * b) + t * t * (3 * rest * c + t * d);
    polygon.push(at(fromX, x1, x2, x), at(fromY, y1, y2, y));
  }
}
