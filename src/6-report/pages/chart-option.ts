import { chartColours } from "./chart-colours.js";
import { MARK_LINE_PX, RING_PX, readableWords, roomPx, scalesOf, WIDTH_PX } from "./chart-layout.js";
import type { Chart, ChartAxis, ChartLine, ChartMark, ChartPoint } from "./chart-types.js";

const FONT = "system-ui, sans-serif";
const TEXT_PX = 13;

/** A chart in the form of the library. */
export function optionOf(chart: Chart): Record<string, unknown> {
  const { x, y, right, lines, chosen } = chart;
  const { left, top, ...ends } = roomPx(chart);
  const nameGapPx = top - 28;
  const words = readableWords(chart);
  const series: object[] = lines.map((line, l) => ({
    ...seriesOf(line, words[l], chosen),
    ...(l === 0 && { markLine: markLineOf(chart) }),
  }));
  return {
    animation: false,
    textStyle: { fontFamily: FONT, color: chartColours.ink },
    grid: { left, top, ...ends },
    xAxis: axisOf(x, "middle", 32),
    yAxis: [
      axisOf(y, "left", nameGapPx),
      ...(right ? [{ ...axisOf(right, "right", nameGapPx), splitLine: { show: false } }] : []),
    ],
    series: chosen ? [...series, ringAt(chosen)] : series,
  };
}

function seriesOf(line: ChartLine, words: readonly (string | undefined)[], chosen?: ChartPoint): object {
  const { name, points, right, symbol = "circle", width = 1.5, dash = "solid", colour } = line;
  return {
    type: "line",
    name,
    yAxisIndex: right ? 1 : 0,
    data: points.map(({ x, y }, p) => ({
      value: [x, y],
      label: {
        show: words[p] !== undefined,
        formatter: words[p] ?? "",
        position: "top",
        distance: chosen && x === chosen.x && y === chosen.y ? RING_PX / 2 + 2 : 5,
        color: chartColours.ink,
        fontSize: TEXT_PX,
        textBorderColor: "#fff",
        textBorderWidth: 3,
      },
    })),
    symbol,
    symbolSize: width > 2 ? 8 : 6,
    color: colour,
    lineStyle: { width, type: dash, color: colour },
  };
}

const ringAt = ({ x, y }: ChartPoint): object => ({
  type: "scatter",
  name: "",
  data: [[x, y]],
  symbol: "circle",
  symbolSize: RING_PX,
  itemStyle: { color: "transparent", borderColor: chartColours.accent, borderWidth: 3 },
  z: 5,
});

function axisOf({ name, doubling, min, max }: ChartAxis, place: keyof typeof SIDES, gapPx: number): object {
  const { ink, soft } = chartColours;
  return {
    type: doubling ? "log" : "value",
    ...(doubling && { logBase: 2 }),
    ...(min !== undefined && { min }),
    ...(max !== undefined && { max }),
    name,
    nameLocation: place === "middle" ? "middle" : "end",
    nameGap: gapPx,
    nameTextStyle: { fontSize: 14, color: ink, ...SIDES[place] },
    axisLabel: {
      fontSize: TEXT_PX,
      color: ink,
      formatter: (value: number) =>
        doubling && !isDoubling(value) ? "" : String(Number(value.toPrecision(3))),
    },
    axisLine: { show: true, lineStyle: { color: soft } },
    splitLine: { lineStyle: { color: "#e4e8ea" } },
  };
}

/**
 * The name of a vertical axis starts or ends at the edge of the picture, because it may be longer than the room around the axis.
 */
const SIDES = {
  middle: {},
  left: { align: "left", padding: [0, 0, 0, -40] },
  right: { align: "right", padding: [0, -40, 0, 0] },
} as const;

/** A doubling axis would also label its ends, which are no ticks. */
const isDoubling = (value: number): boolean =>
  Math.abs(Math.log2(value) - Math.round(Math.log2(value))) < 1e-6;

/** A mark nearer than this to the right edge has its words on the left; otherwise they would be cut off. */
const WORDS_PX = 80;

function markLineOf(chart: Chart): object {
  const { marks = [] } = chart;
  const scale = scalesOf(chart).x;
  const { left, right } = roomPx(chart);
  const lastPx = WIDTH_PX - left - right - WORDS_PX;
  const labelOf = ({ along, at, side }: ChartMark, k: number): object =>
    along === "x"
      ? {
          position: "end",
          distance: 3 + MARK_LINE_PX * k,
          ...(scale(at) > lastPx && { align: "right" }),
        }
      : { position: side === "left" ? "insideStartTop" : "insideEndTop", distance: 3 };
  return {
    silent: true,
    symbol: "none",
    data: marks.map((mark, k) => {
      const { along, at, words, colour = chartColours.ink } = mark;
      return {
        [along === "x" ? "xAxis" : "yAxis"]: at,
        lineStyle: { color: colour, type: "dashed", width: 1 },
        label: { formatter: words, color: colour, fontSize: TEXT_PX, ...labelOf(mark, k) },
      };
    }),
  };
}
