import {
  CELL_TOLERANCE,
  type ExpectedTones,
  expectedOf,
  MEAN_TOLERANCE,
  meanOf,
  PALETTE_MEAN_TOLERANCE,
  rmsDifference,
} from "./check.js";
import type { Cost } from "./child.js";
import type { Entry } from "./compare.js";
import type { Tone } from "./job.js";
import { type Spread, spreadOf } from "./statistics.js";

export const NONE = "–";

/** A Markdown table: the first column to the left, all others to the right. */
export function markdownTable(head: readonly string[], body: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const rule = head.map((_, column) => (column === 0 ? "---" : "---:"));
  return [head, rule, ...body].map(line).join("\n");
}

export const list = (lines: readonly string[]): string => lines.map((line) => `- ${line}`).join("\n");

export const toneNames: Readonly<Record<Tone, string>> = {
  light: "linear light",
  codes: "encoded grey",
  palette: "encoded grey, two greys",
  own: "its own",
};

export const costHead: readonly string[] = ["wall s", "min–max", "CPU s", "peak MiB"];

/** Under `costHead`. */
export function costCells({ costs, problems }: Entry): string[] {
  if (problems.length > 0) return ["failed its check", NONE, NONE, NONE];
  const wall = spreadOf(costs.map(({ wallS }) => wallS));
  return [
    wall.median.toFixed(2),
    rangeOf(wall, 2),
    medianOf(costs, ({ cpuS }) => cpuS, 2),
    medianOf(costs, ({ peakMiB }) => peakMiB, 0),
  ];
}

export const rangeOf = ({ min, max }: Spread, digits: number): string =>
  `${min.toFixed(digits)}–${max.toFixed(digits)}`;

function medianOf(costs: readonly Cost[], pick: (cost: Cost) => number | undefined, digits: number): string {
  const values = costs.map(pick).filter((value) => value !== undefined);
  return values.length === 0 ? NONE : spreadOf(values).median.toFixed(digits);
}

/** Median of the ratios within each round. Drift of the machine cancels. */
export function wallRatio({ costs }: Entry, base: Entry | undefined): string {
  if (!base || costs.length === 0 || base.costs.length !== costs.length) return NONE;
  return spreadOf(costs.map(({ wallS }, round) => wallS / base.costs[round].wallS)).median.toFixed(2);
}

/** Output of each contender, and the expected values. */
export function checkTable(entries: readonly Entry[], expected: ExpectedTones): string {
  const head = ["output", "pixels", "bits", "pixels/m", "KiB", "white", "expected", "cells", "checksum"];
  return markdownTable(
    head,
    entries.map(({ contender, output }) => {
      if (!output) return [contender.name, ...new Array<string>(head.length - 1).fill(NONE)];
      const wanted = expectedOf(contender.tone, expected);
      return [
        contender.name,
        `${output.columns} × ${output.rows}`,
        `${output.bitDepth}`,
        output.pixelsPerMetre?.join(" × ") ?? NONE,
        output.fileKiB.toFixed(0),
        meanOf(output.cells).toFixed(4),
        wanted ? meanOf(wanted).toFixed(4) : NONE,
        wanted ? rmsDifference(output.cells, wanted).toFixed(4) : NONE,
        output.checksum,
      ];
    }),
  );
}

export const checkNotes = `White is the mean of the pixels (black 0, white 1), and expected is that of the photo. They may differ by ${MEAN_TOLERANCE}, in two greys by ${PALETTE_MEAN_TOLERANCE}. Cells is the rms difference over 40 × 30 cells, no more than ${CELL_TOLERANCE}, and without a limit in two greys. If an output has other tones than the photo, only size, depth and density are checked. The checksum is of the compressed pixels, and every timed run must repeat it.`;
