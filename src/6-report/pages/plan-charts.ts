import { densityWords } from "../../core/words.js";
import type { Plan, PlanRow } from "../plan.js";
import { type Chart, type ChartLine, type ChartMark, chartHtml } from "./chart.js";
import { chartColours } from "./chart-colours.js";
import { figureHtml } from "./html-page.js";

const { accent, second, third, soft } = chartColours;
const LENS_LINES = [
  [accent, "circle", "solid"],
  [second, "rect", "dashed"],
  [third, "triangle", "dotted"],
  [soft, "diamond", "solid"],
] as const;

const minutesOf = ({ seconds }: PlanRow): number => seconds / 60;
const wordOf = ({ linesPerInch }: PlanRow): string => densityWords(linesPerInch);

/** The pictures of the trade-off, as figures. */
export async function planFigures(plan: Plan): Promise<string> {
  const first =
    plan.job.kind === "photo"
      ? tonesFigure(plan)
      : plan.job.kind === "shade"
        ? doseFigure(plan)
        : timeFigure(plan);
  const figures = [first, gapFigure(plan)];
  const drawn = await Promise.all(
    figures.map(async ({ title, caption, chart }) => figureHtml(title, await chartHtml(chart), caption)),
  );
  return `<div class="pair">${drawn.join("\n")}</div>`;
}

interface Figure {
  readonly title: string;
  readonly caption: string;
  readonly chart: Chart;
}

/** Time against held tones. */
function tonesFigure(plan: Plan): Figure {
  const { rows, job, recommended, lenses } = plan;
  const tones = (row: PlanRow, detailMm: number) =>
    row.tonalResolution?.find((each) => each.detailMm === detailMm) ?? { nominal: 0, held: 0 };
  const lineOf = (
    of: readonly PlanRow[],
    detailMm: number,
    kind: "held" | "nominal",
    look: Omit<ChartLine, "points">,
  ): ChartLine => ({
    ...look,
    points: of.map((row) => ({
      x: minutesOf(row),
      y: tones(row, detailMm)[kind],
      ...((look.width ?? 0) > 2 && { word: wordOf(row) }),
    })),
  });
  const others = [0.15, 0.25, 0.5, 1].filter((side) => side !== job.detailMm);
  const looks = [
    { colour: soft, dash: "dotted", symbol: "triangle" },
    { colour: third, dash: "dotted", symbol: "rect" },
    { colour: second, dash: "dotted", symbol: "diamond" },
  ] as const;
  const lines =
    lenses.length > 1
      ? byLens(plan).map(({ name, own, look }) =>
          lineOf(own, job.detailMm, "held", { name, width: 2.5, ...look }),
        )
      : [
          lineOf(rows, job.detailMm, "held", {
            name: `held in ${job.detailMm} mm`,
            colour: accent,
            width: 3,
          }),
          lineOf(rows, job.detailMm, "nominal", {
            name: "if the dose were steady",
            colour: accent,
            dash: "dashed",
          }),
          ...others.map((side, k) => lineOf(rows, side, "held", { name: `held in ${side} mm`, ...looks[k] })),
        ];
  const chosen = rows[recommended.row];
  const { minutes, tones: wanted } = job.limits;
  const marks: ChartMark[] = [
    ...(minutes === undefined
      ? []
      : [{ along: "x", at: minutes, words: `${minutes} min allowed`, colour: second } as const]),
    ...(wanted === undefined
      ? []
      : [{ along: "y", at: wanted.count, words: `${wanted.count} tones wanted`, colour: second } as const]),
  ];
  return {
    title: "What each minute buys",
    caption: `Tones that a detail holds while the dose drifts by ±${Math.round(100 * job.doseSpread)} %, against run time; each tick along is a doubling. Numbers at the points are lines per inch; the ring is the choice.`,
    chart: {
      id: "tones",
      summary: `Tones held in a ${job.detailMm} mm detail against run time. The choice, ${wordOf(chosen)} lines per inch, takes ${minutesOf(chosen).toFixed(1)} minutes and holds ${tones(chosen, job.detailMm).held.toFixed(1)}.`,
      x: { name: "run time, minutes", doubling: true, ...around(rows.map(minutesOf)) },
      y: { name: "tones held", least: 0 },
      lines,
      marks,
      chosen: { x: minutesOf(chosen), y: tones(chosen, job.detailMm).held },
    },
  };
}

/** A coating: what density costs. */
function timeFigure(plan: Plan): Figure {
  const { rows, recommended } = plan;
  const chosen = rows[recommended.row];
  const lines = byLens(plan).map(
    ({ name, own, look }): ChartLine => ({
      name: plan.lenses.length > 1 ? name : "run time",
      width: 3,
      ...look,
      points: own.map((row) => ({ x: row.linesPerInch, y: minutesOf(row), word: wordOf(row) })),
    }),
  );
  return {
    title: "What density costs",
    caption:
      "Run time against lines per inch. Every density right of the ring leaves the same clean surface, later.",
    chart: {
      id: "time",
      summary: `Run time against density. The choice, ${wordOf(chosen)} lines per inch, takes ${minutesOf(chosen).toFixed(1)} minutes.`,
      x: { name: "lines per inch", least: 0 },
      y: { name: "minutes", least: 0 },
      lines,
      chosen: { x: chosen.linesPerInch, y: minutesOf(chosen) },
    },
  };
}

/** A solid tone: the dose it needs, and how far the lines' centres stick out of it. */
function doseFigure(plan: Plan): Figure {
  const { rows, recommended } = plan;
  const { charDose } = plan.job;
  const own = rows.filter((row) => row.lens === rows[recommended.row].lens && row.shade);
  const chosen = rows[recommended.row];
  const most = 2 * Math.max(charDose ?? 0, ...own.map(({ shade }) => shade?.dose ?? 0).slice(-1));
  const shown = own.filter(({ shade }) => (shade?.peakDose ?? 0) <= most);
  const line = (
    name: string,
    look: Omit<ChartLine, "name" | "points">,
    of: (row: PlanRow) => number,
  ): ChartLine => ({
    name,
    ...look,
    points: shown.map((row) => ({
      x: row.linesPerInch,
      y: of(row),
      ...(look.width && { word: wordOf(row) }),
    })),
  });
  return {
    title: "Dose for the tone, and on the centres of the lines",
    caption:
      "Dose 1 gives a solid fill full tone. Lines far apart need more dose for the same mean tone and concentrate it; densities off the scale are in the table.",
    chart: {
      id: "dose",
      summary: `Dose against density. The choice, ${wordOf(chosen)} lines per inch, needs ${chosen.shade?.dose.toFixed(2) ?? "no"} dose and has ${chosen.shade?.peakDose.toFixed(2) ?? "none"} on the centres of its lines.`,
      x: { name: "lines per inch", least: 0 },
      y: { name: "dose", least: 0 },
      lines: [
        line("on the centres of lines", { colour: accent, width: 3 }, ({ shade }) => shade?.peakDose ?? 0),
        line("mean", { colour: second, dash: "dashed", symbol: "rect" }, ({ shade }) => shade?.dose ?? 0),
      ],
      marks:
        charDose === undefined
          ? []
          : [{ along: "y", at: charDose, words: `chars from ${charDose}`, colour: second }],
      ...(chosen.shade && { chosen: { x: chosen.linesPerInch, y: chosen.shade.peakDose } }),
    },
  };
}

/** Gap and ripple against density. */
function gapFigure(plan: Plan): Figure {
  const { rows, recommended, matchedLinesPerInch, job } = plan;
  const chosen = rows[recommended.row];
  const own = rows.filter(({ lens }) => lens === chosen.lens);
  const gap = ({ gapMm, markGapMm }: PlanRow): number => (job.kind === "strip" ? markGapMm : gapMm);
  return {
    title: "Gap and ripple",
    caption: `Bare strip between lines (left scale) and how far the dose of a solid fill swings from line to line (right scale)${plan.lenses.length > 1 ? `, for ${plan.lenses[chosen.lens].name}` : ""}. Both can only fall with density.`,
    chart: {
      id: "gap",
      summary: `Gap and ripple against density. At ${wordOf(chosen)} lines per inch the gap is ${gap(chosen).toFixed(3)} mm and the ripple ${(100 * chosen.ripple).toFixed(1)} %.`,
      x: { name: "lines per inch", least: 0 },
      y: { name: "gap, mm", least: 0 },
      right: { name: "ripple, %", least: 0, most: 100 },
      lines: [
        {
          name: "gap",
          colour: second,
          width: 2,
          symbol: "rect",
          points: own.map((row) => ({ x: row.linesPerInch, y: gap(row) })),
        },
        {
          name: "ripple",
          colour: accent,
          width: 2,
          dash: "dashed",
          right: true,
          points: own.map((row) => ({ x: row.linesPerInch, y: 100 * row.ripple })),
        },
      ],
      marks: [
        { along: "x", at: chosen.linesPerInch, words: `chosen ${wordOf(chosen)}`, colour: accent },
        ...(Math.abs(chosen.linesPerInch / matchedLinesPerInch - 1) < 0.2
          ? []
          : [
              {
                along: "x",
                at: matchedLinesPerInch,
                words: `matched ${Math.round(matchedLinesPerInch)}`,
              } as const,
            ]),
      ],
    },
  };
}

function byLens({ lenses, rows }: Plan) {
  return lenses.map(({ name }, k) => {
    const [colour, symbol, dash] = LENS_LINES[k % LENS_LINES.length];
    return { name, own: rows.filter(({ lens }) => lens === k), look: { colour, symbol, dash } };
  });
}

/** An axis of factors that holds all the values with a little room. */
function around(values: readonly number[]): { readonly least: number; readonly most: number } {
  return {
    least: Number((0.8 * Math.min(...values)).toPrecision(2)),
    most: Number((1.25 * Math.max(...values)).toPrecision(2)),
  };
}
