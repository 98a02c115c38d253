import type { Chart, ChartAxis } from "./chart-types.js";

export const WIDTH_PX = 560;
export const HEIGHT_PX = 340;
export const RING_PX = 20;

/** A line of words above the plot, for a mark on the horizontal axis. */
export const MARK_LINE_PX = 18;

/** Room around the plot. Marks have their words between the plot and the names of its vertical axes. */
export const roomPx = ({ right, marks = [] }: Chart) => ({
  left: 48,
  right: right ? 48 : 24,
  top: 48 + MARK_LINE_PX * marks.filter(({ along }) => along === "x").length,
  bottom: 56,
});

/** Pixels along each axis, exact enough to find words that collide. */
export function scalesOf(chart: Chart) {
  const { x, y, right = y, lines } = chart;
  const room = roomPx(chart);
  const heightPx = HEIGHT_PX - room.top - room.bottom;
  const points = (onRight?: boolean) =>
    lines
      .filter((line) => onRight === undefined || Boolean(line.right) === onRight)
      .flatMap((line) => line.points);
  const values = (axis: "x" | "y", onRight?: boolean) => points(onRight).map((point) => point[axis]);
  return {
    x: pixelScale(values("x"), x, WIDTH_PX - room.left - room.right),
    left: pixelScale(values("y", false), y, heightPx),
    right: pixelScale(values("y", true), right, heightPx),
  };
}

function pixelScale(
  values: readonly number[],
  { doubling, min, max }: ChartAxis,
  lengthPx: number,
): (value: number) => number {
  const place = (value: number): number => (doubling ? Math.log2(value) : value);
  const from = place(min ?? Math.min(...values, doubling ? Number.POSITIVE_INFINITY : 0));
  const span = place(max ?? Math.max(...values)) - from;
  return (value) => (span > 0 ? ((place(value) - from) / span) * lengthPx : 0);
}

/** Width of a word of four digits. */
const WORD_PX = 34;
/** Minimum distance between two words on neighbouring lines of text. */
const WORD_HEIGHT_PX = 18;

interface PlacedWord {
  readonly line: number;
  readonly word: string | undefined;
  readonly xPx: number;
  readonly yPx: number;
  readonly isChosen: boolean;
}

/**
 * Words that do not collide, line by line. The word of the chosen point has priority, then the lines in order. On one line words
 * keep a distance along the axis, so that a steep part is not crowded.
 */
export function readableWords(chart: Chart): (string | undefined)[][] {
  const { lines, chosen } = chart;
  const scales = scalesOf(chart);
  const words = lines.flatMap(({ points, right }, line) =>
    points.map(
      ({ x, y, word }): PlacedWord => ({
        ...{ line, word, xPx: scales.x(x), yPx: scales[right ? "right" : "left"](y) },
        isChosen: chosen !== undefined && x === chosen.x && y === chosen.y,
      }),
    ),
  );
  const kept = new Set<PlacedWord>();
  for (const word of [...words].sort((a, b) => Number(b.isChosen) - Number(a.isChosen))) {
    if (word.word !== undefined && [...kept].every((other) => areApart(word, other))) kept.add(word);
  }
  return lines.map((_, line) =>
    words.filter((word) => word.line === line).map((word) => (kept.has(word) ? word.word : undefined)),
  );
}

const areApart = (a: PlacedWord, b: PlacedWord): boolean =>
  Math.abs(a.xPx - b.xPx) >= WORD_PX || (a.line !== b.line && Math.abs(a.yPx - b.yPx) >= WORD_HEIGHT_PX);
