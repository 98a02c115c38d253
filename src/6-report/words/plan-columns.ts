import { lineOverlap } from "../../core/physics/coverage.js";
import { speedNumber } from "../../core/shown-units.js";
import { densityWords, durationWords } from "../../core/words.js";
import type { Plan, PlanRow } from "../plan.js";
import { powerPercentWords } from "./power-words.js";
import {
  EXPECTED_MEANS,
  heldIfWords,
  spreadInWords,
  TONE_SHIFT_MEANS,
  UNEVENNESS_MEANS,
} from "./variation-words.js";

/** A column of the table of densities, in the terminal and on the page. */
export interface PlanColumn {
  /** Two short lines: the name, and the unit or detail. */
  readonly head: readonly [string, string];
  /** The meaning, in a sentence. */
  readonly title: string;
  readonly cell: (row: PlanRow) => string;
  /** Words align left, numbers align right. */
  readonly words?: boolean;
}

/** The columns that matter for this kind of work. */
export function planColumns(plan: Plan): PlanColumn[] {
  const { kind } = plan.job;
  const own = kind === "photo" ? photoColumns(plan) : kind === "strip" ? stripColumns : shadeColumns(plan);
  const hasChar = kind !== "strip" && plan.rows.some(({ charRisk }) => charRisk !== undefined);
  // Without a reference density the dose cannot be compared.
  const referred = plan.rows.some(({ doseFactor }) => doseFactor !== plan.rows[0].doseFactor);
  const told = referred ? own : own.filter((column) => column !== doseColumn);
  return [...lensColumns(plan), ...commonColumns, ...told, ...(hasChar ? [charColumn] : [])];
}

/** The columns of a second, small table: the expected error of a photo in its two parts. */
export function errorColumns(plan: Plan): PlanColumn[] {
  if (plan.job.kind !== "photo") return [];
  return [...lensColumns(plan), linesColumn, expectedColumn(plan.job), ...errorParts];
}

function lensColumns({ lenses }: Plan): PlanColumn[] {
  if (lenses.length === 1) return [];
  const title = "The spot or lens that the row is for.";
  return [{ head: ["lens", ""], title, cell: ({ lens }) => lenses[lens].name, words: true }];
}

const linesColumn: PlanColumn = {
  head: ["lines", "per inch"],
  title: "Line density across the scan lines, and along them.",
  cell: ({ linesPerInch }) => densityWords(linesPerInch),
};

const expectedColumn = ({ spread }: Plan["job"]): PlanColumn => ({
  head: ["expected", "error"],
  title: `Expected visual error, in L*, on a machine that varies (${spreadInWords(spread)}; standard deviations): ${EXPECTED_MEANS}. 1 is just noticeable.`,
  cell: ({ expectedVisualError }) => expectedVisualError?.toFixed(2) ?? "–",
});

/** The two parts of the expected error. */
export const errorParts: readonly PlanColumn[] = [
  {
    head: ["uneven", "L*"],
    title: `Unevenness: ${UNEVENNESS_MEANS}.`,
    cell: ({ unevenness }) => unevenness?.toFixed(2) ?? "–",
  },
  {
    head: ["tone", "shift L*"],
    title: `Tone shift: ${TONE_SHIFT_MEANS}.`,
    cell: ({ toneShift }) => toneShift?.toFixed(2) ?? "–",
  },
];

const commonColumns: readonly PlanColumn[] = [
  linesColumn,
  {
    head: ["times", "matched"],
    title: "Overdrive: spot diameter over pitch. 1 is matched, spots just touch.",
    cell: ({ overdrive }) => overdrive.toFixed(2),
  },
  {
    head: ["run", "time"],
    title: "Machine time at the speed given.",
    cell: ({ seconds }) => durationWords(seconds),
  },
];

const rippleColumn: PlanColumn = {
  head: ["ripple", "%"],
  title: "How far the dose of a solid fill swings from its mean, from line to line.",
  cell: ({ ripple }) => (100 * ripple).toFixed(ripple < 0.1 ? 1 : 0),
};

const gapColumn: PlanColumn = {
  head: ["gap", "mm"],
  title: "Bare strip between lines as wide as the spot.",
  cell: ({ gapMm }) => (gapMm === 0 ? "none" : gapMm.toFixed(3)),
};

const doseColumn: PlanColumn = {
  head: ["dose", "factor"],
  title:
    "Solid dose at unchanged power and speed, over that at the material's reference density. Its reciprocal is the power factor that keeps the dose.",
  cell: ({ doseFactor }) => doseFactor.toFixed(2),
};

const charColumn: PlanColumn = {
  head: ["char", "risk"],
  title:
    "What of a solid fill gets the dose from which the material chars, or more: none of it, everywhere, or the line centres, the middles of the lines, where the dose is highest.",
  cell: ({ charRisk, shade }) => (shade === undefined && charRisk === undefined ? "–" : (charRisk ?? "–")),
  words: true,
};

function photoColumns({ rows, job }: Plan): PlanColumn[] {
  return [
    gapColumn,
    rippleColumn,
    doseColumn,
    ...(rows.some(({ usefulTones }) => usefulTones !== undefined) ? [usefulColumn(job)] : []),
    ...(job.limits.tones ? [heldColumn(job.limits.tones, job.spread)] : []),
    expectedColumn(job),
    {
      head: ["detail", "lp/mm"],
      title:
        "Line pairs per mm across the lines that arrive: where a tenth of the modulation is left, or where the photo ends.",
      cell: ({ detail }) =>
        Math.min(detail.acrossLpPerMm.at10, detail.photoLpPerMm ?? Number.POSITIVE_INFINITY).toFixed(1),
    },
    {
      head: ["limited", "by"],
      title: "What limits the detail first.",
      cell: ({ detail }) => detail.limitedBy,
      words: true,
    },
    {
      head: ["", "method"],
      title: "Halftone method that the expected error is for.",
      cell: ({ method }) => method ?? "–",
      words: true,
    },
  ];
}

/** What densities are compared by. */
const usefulColumn = (job: Plan["job"]): PlanColumn => ({
  head: ["useful", "tones"],
  title: `Tones that fine details, about ${Number(job.detailMm.toPrecision(2))} mm wide, hold although ${heldIfWords(job.spread)}; fewer count the larger the expected error is. Measured on a built-in picture with the halftone that is best at this density: densities are compared by this column.`,
  cell: ({ usefulTones }) => usefulTones?.toFixed(1) ?? "–",
});

/** The tones that the user asked for. */
const heldColumn = (
  { detailMm }: NonNullable<Plan["job"]["limits"]["tones"]>,
  spread: Plan["job"]["spread"],
): PlanColumn => ({
  head: ["held in", `${detailMm} mm`],
  title: `Tones that a detail of ${detailMm} mm holds with the method of the row: they stay apart although ${heldIfWords(spread)}.`,
  cell: ({ tonalResolution }) =>
    tonalResolution?.find((tones) => tones.detailMm === detailMm)?.held.toFixed(1) ?? "–",
});

const stripColumns: readonly PlanColumn[] = [
  {
    head: ["bare strip", "mm"],
    title: "Coating left between lines, each as wide as a single line marks.",
    cell: ({ markGapMm }) => (markGapMm === 0 ? "none" : markGapMm.toFixed(3)),
  },
  {
    head: ["overlap", "%"],
    title: "Share of the mark's width by which neighbouring marks overlap.",
    cell: ({ pitchMm, markWidthMm }) =>
      pitchMm > markWidthMm ? "none" : (100 * lineOverlap(pitchMm, markWidthMm)).toFixed(0),
  },
  rippleColumn,
  doseColumn,
];

const powerFactorColumn: PlanColumn = {
  head: ["power", "factor"],
  title:
    "Power at unchanged speed, over the one that gives a solid fill full tone at the density named in the reason.",
  cell: ({ shade }) => shade?.powerFactor.toFixed(2) ?? "–",
};

const powerPercentColumn: PlanColumn = {
  head: ["power", "%"],
  title: "Percent of the machine's power at the speed given, by your full-tone setting.",
  cell: ({ shade }) =>
    shade?.powerPercent === undefined ? "–" : powerPercentWords(shade.powerPercent).replace(" %", ""),
};

const shadeColumns = ({ power, units }: Plan): PlanColumn[] => [
  gapColumn,
  rippleColumn,
  {
    head: ["dose", "mean"],
    title: "Mean dose that gives the wanted tone.",
    cell: ({ shade }) => shade?.dose.toFixed(2) ?? "not reached",
  },
  {
    head: ["on line", "centres"],
    title: "Dose on the centres of the lines.",
    cell: ({ shade }) => shade?.peakDose.toFixed(2) ?? "–",
  },
  power.percent === undefined ? powerFactorColumn : powerPercentColumn,
  {
    head: ["or speed", units.speed],
    title: "Speed for the same dose, at the power that gives a solid fill full tone at that density.",
    cell: ({ shade }) => (shade ? speedNumber(shade.speedMmPerS, units) : "–"),
  },
  {
    head: ["time", "then"],
    title: "Run time at that speed.",
    cell: ({ shade }) => (shade ? durationWords(shade.secondsAtSpeed) : "–"),
  },
];
