import { densityWords } from "../../core/words.js";
import type { Plan, PlanRow } from "../plan.js";
import { heldIfWords } from "../words/variation-words.js";
import { chartHtml } from "./chart.js";
import { chartColours } from "./chart-colours.js";
import type { ChartFigure, ChartLine, ChartMark } from "./chart-types.js";
import { figureHtml } from "./html-parts.js";

const { accent, second, third, soft } = chartColours;
const LENS_LINES = [
  [accent, "circle", "solid"],
  [second, "rect", "dashed"],
  [third, "triangle", "dotted"],
  [soft, "diamond", "solid"],
] as const;

const minutesOf = ({ seconds }: PlanRow): number => seconds / 60;
const wordOf = ({ linesPerInch }: PlanRow): string => densityWords(linesPerInch);

/** The charts of the trade-off. */
export async function planFigures(plan: Plan): Promise<string> {
  const first = { photo: tonesFigure, strip: timeFigure, shade: doseFigure }[plan.job.kind];
  const isCompared = plan.rows.length > 1;
  const drawn = await Promise.all(
    [...(isCompared ? [first(plan)] : []), gapFigure(plan)].map(async ({ title, caption, chart }) =>
      figureHtml(title, await chartHtml(chart), caption),
    ),
  );
  return `<div class="pair">${drawn.join("\n")}</div>`;
}

/** Useful tones against run time, for all densities. */
const tonesLine = (rows: readonly PlanRow[], look: Omit<ChartLine, "points">): ChartLine => ({
  ...look,
  points: rows.map((row) => ({
    x: minutesOf(row),
    y: row.usefulTones ?? 0,
    ...((look.width ?? 0) > 2 && { word: wordOf(row) }),
  })),
});

/** Marks for the user's limits. */
function limitMarks({ minutes }: Plan["job"]["limits"]): ChartMark[] {
  const mark = (along: "x" | "y", at: number, words: string): ChartMark => ({
    ...{ along, at, words, colour: second },
  });
  return [...(minutes === undefined ? [] : [mark("x", minutes, `${minutes} min allowed`)])];
}

/** Time against useful tones. */
function tonesFigure(plan: Plan): ChartFigure {
  const { rows, job, recommended, lenses } = plan;
  const chosen = rows[recommended.row];
  const useful = chosen.usefulTones ?? 0;
  return {
    title: "What each minute buys",
    caption: `Useful tones in fine detail, against run time: those that stay apart although ${heldIfWords(job.spread)}, fewer the larger the expected error is. Each tick on the time axis is a doubling. Numbers at the points are lines per inch; the ring is the choice.`,
    chart: {
      id: "tones",
      summary: `Useful tones in fine detail against run time. The choice, ${wordOf(chosen)} lines per inch, takes ${minutesOf(chosen).toFixed(1)} minutes and has ${useful.toFixed(1)}.`,
      x: { name: "run time, minutes", doubling: true, ...around(rows.map(minutesOf)) },
      y: { name: "useful tones", min: 0 },
      lines:
        lenses.length > 1
          ? byLens(plan).map(({ name, own, look }) => tonesLine(own, { name, width: 2.5, ...look }))
          : [tonesLine(rows, { name: "useful tones", colour: accent, width: 3 })],
      marks: limitMarks(job.limits),
      chosen: { x: minutesOf(chosen), y: useful },
    },
  };
}

/** Charts of the cost of density on a coating. */
function timeFigure(plan: Plan): ChartFigure {
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
      x: { name: "lines per inch", min: 0 },
      y: { name: "minutes", min: 0 },
      lines,
      chosen: { x: chosen.linesPerInch, y: minutesOf(chosen) },
    },
  };
}

/** A solid tone: its mean dose, and the dose on the centres of the lines. */
function doseFigure(plan: Plan): ChartFigure {
  const { rows, recommended } = plan;
  const { charDose } = plan.job;
  const own = rows.filter((row) => row.lens === rows[recommended.row].lens && row.shade);
  const chosen = rows[recommended.row];
  const maxDose = 2 * Math.max(charDose ?? 0, ...own.map(({ shade }) => shade?.dose ?? 0).slice(-1));
  const shown = own.filter(({ shade }) => (shade?.peakDose ?? 0) <= maxDose);
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
      "Dose 1 gives a solid fill full tone. Lines far apart need a higher mean dose for the same tone, and concentrate it on their centres; densities off the scale are in the table.",
    chart: {
      id: "dose",
      summary: `Dose against density. The choice, ${wordOf(chosen)} lines per inch, needs ${chosen.shade?.dose.toFixed(2) ?? "no"} dose and has ${chosen.shade?.peakDose.toFixed(2) ?? "none"} on the centres of its lines.`,
      x: { name: "lines per inch", min: 0 },
      y: { name: "dose", min: 0 },
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
function gapFigure(plan: Plan): ChartFigure {
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
      x: { name: "lines per inch", min: 0 },
      y: { name: "gap, mm", min: 0 },
      right: { name: "ripple, %", min: 0, max: 100 },
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

/** A logarithmic axis that holds all values with a small margin. */
function around(values: readonly number[]): { readonly min: number; readonly max: number } {
  return {
    min: Number((0.8 * Math.min(...values)).toPrecision(2)),
    max: Number((1.25 * Math.max(...values)).toPrecision(2)),
  };
}
