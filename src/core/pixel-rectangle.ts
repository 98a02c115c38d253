/** A part of a picture or bitmap in whole pixels, from its upper left corner. */
export interface PixelRectangle {
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
}

/** A grid on which rectangles lie. */
export interface PixelGrid {
  readonly columns: number;
  readonly rows: number;
  /** Whether the last pixel of a row is a neighbour of the first. */
  readonly closed?: boolean;
}

/** A rectangle and what lies around it, as far as the grid goes. On a closed grid columns may pass the ends. */
export function grownWithin(
  { columns, rows, closed = false }: PixelGrid,
  area: PixelRectangle,
  alongPx: number,
  acrossPx: number,
): PixelRectangle {
  const [first, end] = closed ? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY] : [0, columns];
  const left = Math.max(first, area.left - alongPx);
  const top = Math.max(0, area.top - acrossPx);
  return {
    left,
    top,
    columns: Math.min(end, area.left + area.columns + alongPx) - left,
    rows: Math.min(rows, area.top + area.rows + acrossPx) - top,
  };
}
