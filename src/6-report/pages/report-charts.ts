import {
  type ExposureBlur,
  exposureBlurs,
  exposureModulation,
  nyquistPerMm,
} from "../../core/physics/modulation.js";
import { percentWords, tonesWords } from "../../core/words.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { Report } from "../report.js";
import { contrastWords, limitWords } from "../words/report-words.js";
import type { Chart, ChartMark } from "./chart.js";
import { chartColours } from "./chart-colours.js";

/** A chart with what stands above and below it. */
export interface ChartFigure {
  readonly title: string;
  readonly caption: string;
  readonly chart: Chart;
}

const { accent, second, soft } = chartColours;

/** Mean luminance factors of flat tints, by burn fraction. */
export interface TonePoints {
  readonly fractions: ArrayLike<number>;
  readonly luminance: ArrayLike<number>;
}

/** Burn fraction to luminance factor: as it comes out, and as it would if marks were as large as their pixels. */
export function toneCurveFigure(
  { fractions, luminance }: TonePoints,
  method: string,
  levels: number,
): ChartFigure {
  const points = Array.from(fractions, (x, i) => ({ x: 100 * x, y: luminance[i] }));
  const [bare, solid] = [points[0], points[points.length - 1]];
  const half = points.reduce((a, b) => (Math.abs(b.x - 50) < Math.abs(a.x - 50) ? b : a));
  const naive = bare.y + ((solid.y - bare.y) * half.x) / 100;
  const [halfTint, axis] =
    levels > 2
      ? ["A tint whose pixels have half of full power on average", "mean power of its pixels, % of full"]
      : ["A tint that burns half of its pixels", "pixels that burn, %"];
  return {
    title: "Tone curve",
    caption: `${halfTint} comes out at luminance factor ${half.y.toFixed(2)}, where a plain halftone counts on ${naive.toFixed(2)}. The photo's tones went through the curve turned round.`,
    chart: {
      id: "tone",
      summary: `Luminance factor against burn fraction with ${method}: from ${bare.y.toFixed(2)} bare over ${half.y.toFixed(2)} at half to ${solid.y.toFixed(2)} solid, beside the straight line of a plain halftone.`,
      x: { name: axis, least: 0, most: 100 },
      y: { name: "luminance factor", least: 0 },
      lines: [
        { name: "as simulated", points, colour: accent, width: 3, symbol: "none" },
        {
          name: "as a plain halftone takes it",
          points: [bare, solid],
          colour: second,
          dash: "dashed",
          width: 2,
          symbol: "none",
        },
      ],
    },
  };
}

/** Tones against the size of a detail. */
export function tonesFigure(tones: NonNullable<Report["tonalResolution"]>, doseSpread: number): ChartFigure {
  const fine = tones.find(({ detailMm }) => detailMm === 0.25) ?? tones[0];
  const line = (kind: "nominal" | "held") =>
    tones.map((each) => ({ x: each.detailMm, y: each[kind], word: tonesWords(each[kind]) }));
  return {
    title: "Tones in a detail",
    caption: `Steps of one L* that stand clear of the halftone's grain in a square detail of that side: with a steady dose, and held while it drifts by ±${percentWords(doseSpread)}. Each tick along is a doubling.`,
    chart: {
      id: "tones",
      summary: `Tones against detail size. A detail of ${fine.detailMm} mm carries ${tonesWords(fine.nominal)} with a steady dose and ${tonesWords(fine.held)} under the dose spread; the table below has every figure.`,
      x: { name: "side of the detail, mm", doubling: true, least: 0.125, most: 1.1 },
      y: { name: "tones", least: 0 },
      lines: [
        { name: "steady dose", points: line("nominal"), colour: accent, width: 3 },
        { name: "held", points: line("held"), colour: second, width: 2, dash: "dashed", symbol: "rect" },
      ],
    },
  };
}

const POINTS = 96;

/** Exposure modulation along and across, against line pairs per mm, with what else binds. */
export function modulationFigure(
  detail: Report["detail"],
  { pitch, spot, motion }: Pick<ResolvedOptions, "pitch" | "spot" | "motion">,
): ChartFigure {
  const { along, across } = exposureBlurs(pitch, spot, motion);
  const nyquist = { along: nyquistPerMm(pitch.alongMm), across: nyquistPerMm(pitch.acrossMm) };
  const most = axisEnd(1.5 * Math.max(detail.alongLpPerMm.at10, detail.acrossLpPerMm.at10));
  const curve = (blur: ExposureBlur) =>
    Array.from({ length: POINTS + 1 }, (_, i) => {
      const x = (most * i) / POINTS;
      return { x, y: 100 * exposureModulation(x, blur) };
    });
  const marks: ChartMark[] = [
    { along: "x", at: detail.photoLpPerMm, words: `photo ${detail.photoLpPerMm.toFixed(1)}`, colour: second },
    ...(nyquist.along === nyquist.across
      ? [{ along: "x", at: nyquist.across, words: `pitch ${nyquist.across.toFixed(1)}` } as const]
      : [
          { along: "x", at: nyquist.along, words: `pitch along ${nyquist.along.toFixed(1)}` } as const,
          { along: "x", at: nyquist.across, words: `pitch across ${nyquist.across.toFixed(1)}` } as const,
        ]),
  ];
  const beyond = marks.filter(({ at }) => at > most).map(({ words }) => words);
  const alongWords = contrastWords(detail.alongLpPerMm, along, pitch.alongMm);
  const acrossWords = contrastWords(detail.acrossLpPerMm, across, pitch.acrossMm);
  return {
    title: "Detail that arrives",
    caption: `Contrast left of fine lines. Along a line, in line pairs per mm: ${alongWords}; across: ${acrossWords}. Here ${limitWords[detail.limitedBy]}.${beyond.length > 0 ? ` Off to the right: ${beyond.join(", ")} line pairs per mm.` : ""}`,
    chart: {
      id: "modulation",
      summary: `Contrast left against line pairs per mm. Along: ${alongWords}. Across: ${acrossWords}. The photo itself ends at ${detail.photoLpPerMm.toFixed(1)}.`,
      x: { name: "line pairs per mm", least: 0, most },
      y: { name: "contrast left, %", least: 0, most: 100 },
      lines: [
        { name: "along the lines", points: curve(along), colour: accent, width: 3, symbol: "none" },
        {
          name: "across them",
          points: curve(across),
          colour: soft,
          width: 2,
          dash: "dashed",
          symbol: "none",
        },
      ],
      marks: [
        ...marks.filter(({ at }) => at <= most).sort((a, b) => a.at - b.at),
        { along: "y", at: 50, words: "half", side: "left" },
        { along: "y", at: 10, words: "a tenth", side: "left" },
      ],
    },
  };
}

/** An end for an axis that parts into round ticks. */
function axisEnd(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  return decade * (ROUND_ENDS.find((end) => end * decade >= value) ?? 10);
}

const ROUND_ENDS = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10] as const;
