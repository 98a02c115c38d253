import {
  type ExposureBlur,
  exposureBlurs,
  exposureModulation,
  nyquistPerMm,
} from "../../core/physics/modulation.js";
import type { Pitch } from "../../core/plane.js";
import type { BeamMotion, Spot } from "../../core/spot.js";
import type { Spread } from "../../core/spread.js";
import { tonesWords } from "../../core/words.js";
import type { Report } from "../report.js";
import { contrastWords, limitWords } from "../words/report-words.js";
import { heldIfWords } from "../words/variation-words.js";
import { chartColours } from "./chart-colours.js";
import type { ChartFigure, ChartMark } from "./chart-types.js";

const { accent, second, soft } = chartColours;

/** Mean luminance factors of flat tints, by burn fraction. */
export interface TonePoints {
  readonly fractions: ArrayLike<number>;
  readonly luminance: ArrayLike<number>;
}

/** Luminance factor by burn fraction: the real one, and the one if each mark covered its pixel exactly. */
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
    caption: `${halfTint} comes out at luminance factor ${half.y.toFixed(2)}, where a plain halftone expects ${naive.toFixed(2)}. The photo's tones went through the inverse of this curve.`,
    chart: {
      id: "tone",
      summary: `Luminance factor against burn fraction with ${method}: from ${bare.y.toFixed(2)} bare through ${half.y.toFixed(2)} at half to ${solid.y.toFixed(2)} solid, beside the straight line of a plain halftone.`,
      x: { name: axis, min: 0, max: 100 },
      y: { name: "luminance factor", min: 0 },
      lines: [
        { name: "as simulated", points, colour: accent, width: 3, symbol: "none" },
        {
          name: "as a plain halftone expects",
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
export function tonesFigure(tones: NonNullable<Report["tonalResolution"]>, spread: Spread): ChartFigure {
  const fine = tones.find(({ detailMm }) => detailMm === 0.25) ?? tones[0];
  const line = (kind: "nominal" | "held") =>
    tones.map((each) => ({ x: each.detailMm, y: each[kind], word: tonesWords(each[kind]) }));
  return {
    title: "Tones in a detail",
    caption: `Steps of one L* that stand clear of the halftone's grain in a square detail of that side. Steady: the dose is as set everywhere. Held: they stay apart although ${heldIfWords(spread)}. Each tick on the axis is a doubling.`,
    chart: {
      id: "tones",
      summary: `Tones against detail size. A detail of ${fine.detailMm} mm carries ${tonesWords(fine.nominal)} with a steady dose and holds ${tonesWords(fine.held)} if the dose varies; the table below has every figure.`,
      x: { name: "side of the detail, mm", doubling: true, min: 0.125, max: 1.1 },
      y: { name: "tones", min: 0 },
      lines: [
        { name: "steady dose", points: line("nominal"), colour: accent, width: 3 },
        { name: "held", points: line("held"), colour: second, width: 2, dash: "dashed", symbol: "rect" },
      ],
    },
  };
}

const POINTS = 96;

/** The parameters of a job's exposure. */
interface Beam {
  readonly pitch: Pitch;
  readonly spot: Spot;
  readonly motion: BeamMotion;
}

/** Exposure modulation along and across, against line pairs per mm, with the other limits. */
export function modulationFigure(detail: Report["detail"], { pitch, spot, motion }: Beam): ChartFigure {
  const { along, across } = exposureBlurs(pitch, spot, motion);
  const { alongLpPerMm, acrossLpPerMm, photoLpPerMm } = detail;
  const max = axisEnd(1.5 * Math.max(alongLpPerMm.at10, acrossLpPerMm.at10));
  const curve = (blur: ExposureBlur) =>
    Array.from({ length: POINTS + 1 }, (_, i) => {
      const x = (max * i) / POINTS;
      return { x, y: 100 * exposureModulation(x, blur) };
    });
  const marks = limitMarks(photoLpPerMm, pitch);
  const beyond = marks.filter(({ at }) => at > max).map(({ words }) => words);
  const offChart = beyond.length > 0 ? ` Off to the right: ${beyond.join(", ")} line pairs per mm.` : "";
  const alongWords = contrastWords(alongLpPerMm, along, pitch.alongMm);
  const acrossWords = contrastWords(acrossLpPerMm, across, pitch.acrossMm);
  return {
    title: "Detail that arrives",
    caption: `Contrast left of fine lines. Along a line, in line pairs per mm: ${alongWords}; across: ${acrossWords}. Here ${limitWords[detail.limitedBy]}.${offChart}`,
    chart: {
      id: "modulation",
      summary: `Contrast left against line pairs per mm. Along: ${alongWords}. Across: ${acrossWords}. The photo itself ends at ${photoLpPerMm.toFixed(1)}.`,
      x: { name: "line pairs per mm", min: 0, max },
      y: { name: "contrast left, %", min: 0, max: 100 },
      lines: [
        { name: "along the lines", points: curve(along), colour: accent, width: 3, symbol: "none" },
        {
          ...{ name: "across the lines", points: curve(across), colour: soft },
          ...{ width: 2, dash: "dashed", symbol: "none" },
        },
      ],
      marks: [
        ...marks.filter(({ at }) => at <= max).sort((a, b) => a.at - b.at),
        { along: "y", at: 50, words: "half", side: "left" },
        { along: "y", at: 10, words: "a tenth", side: "left" },
      ],
    },
  };
}

/** Marks at the limits of photo and pitch. */
function limitMarks(photoLpPerMm: number, pitch: Pitch): ChartMark[] {
  const mark = (words: string, at: number, colour?: string): ChartMark => ({
    ...{ along: "x", at, words: `${words} ${at.toFixed(1)}` },
    ...(colour && { colour }),
  });
  const [along, across] = [nyquistPerMm(pitch.alongMm), nyquistPerMm(pitch.acrossMm)];
  return [
    mark("photo", photoLpPerMm, second),
    ...(along === across
      ? [mark("pitch", across)]
      : [mark("pitch along", along), mark("pitch across", across)]),
  ];
}

/** An end of an axis that gives round ticks. */
function axisEnd(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  return decade * (ROUND_ENDS.find((end) => end * decade >= value) ?? 10);
}

const ROUND_ENDS = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10] as const;
