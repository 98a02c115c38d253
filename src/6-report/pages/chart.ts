import { chartColours, inPageColours } from "./chart-colours.js";
import { escapeHtml } from "./html-page.js";

/** An axis. Lengths of the ticks follow from the data. */
export interface ChartAxis {
  readonly name: string;
  /** Equal steps for equal factors, with a tick at each doubling. */
  readonly doubling?: boolean;
  readonly least?: number;
  readonly most?: number;
}

/** A point, and a word beside it. */
export interface ChartPoint {
  readonly x: number;
  readonly y: number;
  readonly word?: string;
}

export interface ChartLine {
  readonly name: string;
  readonly points: readonly ChartPoint[];
  readonly colour: string;
  /** In pixels; the line that matters is thicker. */
  readonly width?: number;
  readonly dash?: "solid" | "dashed" | "dotted";
  readonly symbol?: "circle" | "rect" | "triangle" | "diamond" | "none";
  /** Belongs to the axis on the right. */
  readonly right?: boolean;
}

/** A straight line across the chart, with words. */
export interface ChartMark {
  readonly along: "x" | "y";
  readonly at: number;
  readonly words: string;
  /** Where the words of a level line stand; on the right where nothing is said. */
  readonly side?: "left" | "right";
  readonly colour?: string;
}

export interface Chart {
  /** Names the picture for those who cannot see it, and makes its ids its own on the page. */
  readonly id: string;
  readonly summary: string;
  readonly x: ChartAxis;
  readonly y: ChartAxis;
  readonly right?: ChartAxis;
  readonly lines: readonly ChartLine[];
  readonly marks?: readonly ChartMark[];
  /** A point to set off with a ring. */
  readonly chosen?: ChartPoint;
}

const WIDTH_PX = 560;
const HEIGHT_PX = 340;
const RING_PX = 20;
const FONT = "system-ui, sans-serif";

/** A chart with its key, as HTML: drawn here, with nothing to run where it is looked at. */
export async function chartHtml(chart: Chart): Promise<string> {
  return inPageColours(keyHtml(chart.lines) + (await chartSvg(chart)));
}

/** The chart library guesses the width of texts; a page knows it. */
function keyHtml(lines: readonly ChartLine[]): string {
  const items = lines.map(({ name, colour, width = 1.5, dash = "solid", symbol = "circle" }) => {
    const strokes = DASHES[dash];
    const line = `<path d="M0 7h28" stroke="${colour}" stroke-width="${width}" stroke-dasharray="${strokes}"/>`;
    return `<li><svg viewBox="0 0 28 14" aria-hidden="true">${line}<path d="${SYMBOLS[symbol]}" fill="${colour}"/></svg>${escapeHtml(name)}</li>`;
  });
  return `<ul class="key">${items.join("")}</ul>`;
}

const DASHES = { solid: "none", dashed: "5 3", dotted: "2 3" } as const;

/** Outlines around (14, 7). */
const SYMBOLS = {
  circle: "M10 7a4 4 0 1 0 8 0a4 4 0 1 0 -8 0",
  rect: "M10 3h8v8h-8z",
  triangle: "M14 2.5l4.5 8h-9z",
  diamond: "M14 2.5l4.5 4.5l-4.5 4.5l-4.5 -4.5z",
  none: "",
} as const;

async function chartSvg(chart: Chart): Promise<string> {
  const drawn = await draw(optionOf(chart));
  const own = withoutHover(drawn).replace(/\bzr\d+-/g, `${chart.id}-`);
  const name = escapeHtml(chart.summary);
  return own.replace(/^<svg [^>]*>/, (tag) => {
    const sizeless = tag.replace(/ (?:width|height)="[^"]*"/g, "");
    const box = sizeless.includes("viewBox") ? "" : ` viewBox="0 0 ${WIDTH_PX} ${HEIGHT_PX}"`;
    return `${sizeless.slice(0, -1)}${box} role="img" aria-label="${name}">`;
  });
}

/** What the library adds for a mouse; its running numbers would make every drawing another. */
const withoutHover = (svg: string): string =>
  svg.replace(/<style[^>]*>.*?<\/style>/gs, "").replace(/ (?:class|pointer-events|ecmeta_\w+)="[^"]*"/g, "");

/** The library is large and only wanted where a page is drawn. */
async function draw(option: Record<string, unknown>): Promise<string> {
  const { drawSvg } = await import("./chart-library.js");
  return drawSvg(option, WIDTH_PX, HEIGHT_PX);
}

/** Room that a word of four digits takes along. */
const WORD_PX = 34;

/** Least distance between two words on neighbouring lines of text. */
const WORD_HEIGHT_PX = 18;

/**
 * Words that do not run into each other, line by line; that of the chosen point comes first, then the lines in turn. On one
 * line words keep apart along the axis, so that a steep stretch is not crowded either.
 */
function readableWords({ x, y, right, lines, chosen }: Chart): (string | undefined)[][] {
  const all = lines.flatMap(({ points, ...line }, l) => points.map((point) => ({ point, line, l })));
  const pxAlong = pixelScale(
    all.map(({ point }) => point.x),
    x,
    WIDTH_PX - 120,
  );
  const scales = [y, right ?? y].map((axis, side) =>
    pixelScale(
      all.filter(({ line }) => Number(line.right ?? false) === side).map(({ point }) => point.y),
      axis,
      HEIGHT_PX - 104,
    ),
  );
  const words = all.map(({ point, line, l }) => ({
    l,
    word: point.word,
    xPx: pxAlong(point.x),
    yPx: scales[line.right ? 1 : 0](point.y),
    chosen: chosen !== undefined && point.x === chosen.x && point.y === chosen.y,
  }));
  const kept = new Set<(typeof words)[number]>();
  const apart = (a: (typeof words)[number], b: (typeof words)[number]): boolean =>
    Math.abs(a.xPx - b.xPx) >= WORD_PX || (a.l !== b.l && Math.abs(a.yPx - b.yPx) >= WORD_HEIGHT_PX);
  for (const word of [...words].sort((a, b) => Number(b.chosen) - Number(a.chosen))) {
    if (word.word !== undefined && [...kept].every((other) => apart(word, other))) kept.add(word);
  }
  return lines.map((_, l) =>
    words.filter((word) => word.l === l).map((word) => (kept.has(word) ? word.word : undefined)),
  );
}

/** Pixels along an axis, near enough to tell whether words collide. */
function pixelScale(
  values: readonly number[],
  { doubling, least, most }: ChartAxis,
  lengthPx: number,
): (value: number) => number {
  const place = (value: number): number => (doubling ? Math.log2(value) : value);
  const from = place(least ?? Math.min(...values, doubling ? Number.POSITIVE_INFINITY : 0));
  const span = place(most ?? Math.max(...values)) - from;
  return (value) => (span > 0 ? ((place(value) - from) / span) * lengthPx : 0);
}

function optionOf(chart: Chart): Record<string, unknown> {
  const { x, y, right, lines, marks = [], chosen } = chart;
  const { ink, accent } = chartColours;
  const words = readableWords(chart);
  const series: object[] = lines.map((line, l) => ({
    type: "line",
    name: line.name,
    yAxisIndex: line.right ? 1 : 0,
    data: line.points.map(({ x: px, y: py }, p) => ({
      value: [px, py],
      label: {
        show: words[l][p] !== undefined,
        formatter: words[l][p] ?? "",
        position: "top",
        distance: chosen && px === chosen.x && py === chosen.y ? RING_PX / 2 + 2 : 5,
        color: ink,
        fontSize: 13,
        textBorderColor: "#fff",
        textBorderWidth: 3,
      },
    })),
    symbol: line.symbol ?? "circle",
    symbolSize: (line.width ?? 1.5) > 2 ? 8 : 6,
    color: line.colour,
    lineStyle: { width: line.width ?? 1.5, type: line.dash ?? "solid", color: line.colour },
  }));
  if (series.length > 0) Object.assign(series[0], { markLine: markLineOf(marks) });
  if (chosen) {
    series.push({
      type: "scatter",
      name: "",
      data: [[chosen.x, chosen.y]],
      symbol: "circle",
      symbolSize: RING_PX,
      itemStyle: { color: "transparent", borderColor: accent, borderWidth: 3 },
      z: 5,
    });
  }
  return {
    animation: false,
    textStyle: { fontFamily: FONT, color: ink },
    grid: { left: 48, right: right ? 48 : 24, top: 48, bottom: 56 },
    xAxis: axisOf(x, "middle", 32),
    yAxis: [
      axisOf(y, "left", 20),
      ...(right ? [{ ...axisOf(right, "right", 20), splitLine: { show: false } }] : []),
    ],
    series,
  };
}

function axisOf({ name, doubling, least, most }: ChartAxis, place: keyof typeof SIDES, gap: number): object {
  const { ink, soft } = chartColours;
  const side = SIDES[place];
  return {
    type: doubling ? "log" : "value",
    ...(doubling && { logBase: 2 }),
    ...(least !== undefined && { min: least }),
    ...(most !== undefined && { max: most }),
    name,
    nameLocation: place === "middle" ? "middle" : "end",
    nameGap: gap,
    nameTextStyle: { fontSize: 14, color: ink, ...side },
    axisLabel: {
      fontSize: 13,
      color: ink,
      formatter: (value: number) =>
        doubling && !isDoubling(value) ? "" : String(Number(value.toPrecision(3))),
    },
    axisLine: { show: true, lineStyle: { color: soft } },
    splitLine: { lineStyle: { color: "#e4e8ea" } },
  };
}

/** The name of an upright axis begins, or ends, at the edge of the picture: it may be longer than the axis has room around it. */
const SIDES = {
  middle: {},
  left: { align: "left", padding: [0, 0, 0, -40] },
  right: { align: "right", padding: [0, -40, 0, 0] },
} as const;

/** A doubling axis also wants to label its ends, which are none. */
const isDoubling = (value: number): boolean =>
  Math.abs(Math.log2(value) - Math.round(Math.log2(value))) < 1e-6;

function markLineOf(marks: readonly ChartMark[]): object {
  return {
    silent: true,
    symbol: "none",
    data: marks.map(({ along, at, words, side, colour = chartColours.ink }, k) => ({
      [along === "x" ? "xAxis" : "yAxis"]: at,
      lineStyle: { color: colour, type: "dashed", width: 1 },
      label: {
        formatter: words,
        color: colour,
        fontSize: 13,
        position: along === "x" ? "end" : side === "left" ? "insideStartTop" : "insideEndTop",
        distance: along === "x" ? 3 + 15 * k : 3,
      },
    })),
  };
}
