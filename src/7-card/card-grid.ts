import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { Pitch } from "../core/plane.js";
import { pitchMmFromLinesPerInch } from "../core/units.js";
import type { CardSpec } from "./card-spec.js";

/** The pixels of a card. */
export interface CardGrid {
  readonly columns: number;
  readonly rows: number;
  readonly pitch: Pitch;
}

export function cardGrid({ widthMm, heightMm, linesPerInch, linesPerInchAlong }: CardSpec): CardGrid {
  const pitch = {
    alongMm: pitchMmFromLinesPerInch(linesPerInchAlong),
    acrossMm: pitchMmFromLinesPerInch(linesPerInch),
  };
  return {
    columns: Math.max(1, Math.round(widthMm / pitch.alongMm)),
    rows: Math.max(1, Math.round(heightMm / pitch.acrossMm)),
    pitch,
  };
}

/** A part of a card in mm, from its upper left corner. */
export interface MmRectangle {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The nearest pixels to a rectangle in mm. Edges are rounded, so that rectangles that touch still do. */
export function pixelsOf({ leftMm, topMm, widthMm, heightMm }: MmRectangle, pitch: Pitch): PixelRectangle {
  const left = Math.round(leftMm / pitch.alongMm);
  const top = Math.round(topMm / pitch.acrossMm);
  return {
    ...{ left, top },
    columns: Math.round((leftMm + widthMm) / pitch.alongMm) - left,
    rows: Math.round((topMm + heightMm) / pitch.acrossMm) - top,
  };
}

/** The reverse, exactly. */
export const mmOf = ({ left, top, columns, rows }: PixelRectangle, pitch: Pitch): MmRectangle => ({
  leftMm: left * pitch.alongMm,
  topMm: top * pitch.acrossMm,
  widthMm: columns * pitch.alongMm,
  heightMm: rows * pitch.acrossMm,
});
