import { CELL_TOLERANCE, MEAN_TOLERANCE, meanOf, rmsDifference } from "./check.js";
import type { Cost } from "./child.js";
import type { Comparison, Entry } from "./job.js";
import type { KernelResult } from "./kernels.js";
import { spreadOf } from "./statistics.js";
import { type Contender, FULL, PILLOW, type Tone } from "./tools.js";

const NONE = "–";

/** A Markdown table: the first column to the left, all others to the right. */
export function markdownTable(head: readonly string[], body: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const rule = head.map((_, column) => (column === 0 ? "---" : "---:"));
  return [head, rule, ...body].map(line).join("\n");
}

const nameOf = ({ name }: Contender): string => (name.startsWith(FULL) ? `\`${name}\`` : name);

const toneNames: Readonly<Record<Tone, string>> = {
  compensated: "compensated",
  light: "linear light",
  codes: "encoded grey",
};

/** What each contender wrote, and what it was held against. */
export function checkTable({ entries, expected }: Comparison): string {
  const head = [
    "output",
    "tone",
    "pixels",
    "bits",
    "pixels/m",
    "KiB",
    "white",
    "expected",
    "cells",
    "checksum",
  ];
  return markdownTable(
    head,
    entries.map(({ contender, output }) => {
      const tone = toneNames[contender.tone];
      if (!output) return [nameOf(contender), tone, ...new Array<string>(head.length - 2).fill(NONE)];
      const wanted = contender.tone === "compensated" ? undefined : expected[contender.tone];
      return [
        nameOf(contender),
        tone,
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

export const checkNotes = `White is the share of white pixels, expected the photo's mean tone; they may differ by ${MEAN_TOLERANCE}, so two outputs of the same tone by ${2 * MEAN_TOLERANCE}. Cells is the root mean square difference over 40 × 30 cells, at most ${CELL_TOLERANCE}. Compensated tones are not the photo's: there the two bitmaps have to be the same, and the report has to foresee a smaller visual error than without compensation. The checksum is of the pixels; every timed run has to give it again.`;

/** What each contender took. Ratios are medians over the rounds, so that drift of the machine cancels. */
export function timeTable({ entries }: Comparison): string {
  const pillow = entries.find(({ contender }) => contender.name.startsWith(PILLOW));
  return markdownTable(
    ["job", "tone", "wall s", "min–max", "CPU s", "peak MiB", "wall / Pillow"],
    entries.map((entry) => [
      nameOf(entry.contender),
      toneNames[entry.contender.tone],
      ...costCells(entry, pillow),
    ]),
  );
}

function costCells({ costs, problems }: Entry, pillow: Entry | undefined): string[] {
  if (problems.length > 0) return ["failed its check", NONE, NONE, NONE, NONE];
  const wall = spreadOf(costs.map(({ wallS }) => wallS));
  return [
    wall.median.toFixed(2),
    `${wall.min.toFixed(2)}–${wall.max.toFixed(2)}`,
    medianOf(costs, ({ cpuS }) => cpuS, 2),
    medianOf(costs, ({ peakMiB }) => peakMiB, 0),
    pillow && pillow.costs.length === costs.length
      ? spreadOf(costs.map(({ wallS }, round) => wallS / pillow.costs[round].wallS)).median.toFixed(2)
      : NONE,
  ];
}

function medianOf(costs: readonly Cost[], pick: (cost: Cost) => number | undefined, digits: number): string {
  const values = costs.map(pick).filter((value) => value !== undefined);
  return values.length === 0 ? NONE : spreadOf(values).median.toFixed(digits);
}

export const unequal: readonly string[] = [
  "Only the first two rows correct the tone for spot and material, and only the first predicts the piece, measures its visual error and draws a preview. Nothing else here does any of it: their rows are the price of a bitmap, not of the same answer.",
  "Encoded grey means that the photo's code values are dithered as if they were light: cheaper, and its greys come out too light. The rows of linear light do the same thing as each other. Pillow, to which all is related, works on encoded grey.",
  "The photo has as many pixels as the bitmap: nobody enlarges or reduces. Pillow and ImageMagick then skip their filter, netpbm copies pixel by pixel, and spotpitch still runs its resampler.",
  "Error diffusion is Floyd–Steinberg everywhere, but Pillow scans every line the same way, the others in alternate directions.",
  "spotpitch and ImageMagick keep 16 bits a sample after decoding, Pillow and netpbm 8.",
  "spotpitch also writes a report in every row.",
  "Every program compresses its PNG as it does unless told otherwise; the sizes are in the table of checks.",
  "Wall time includes starting the program: Node and sharp for spotpitch, Python for Pillow.",
  "netpbm is a pipe of five or six processes that run at the same time; its peak memory is that of the largest one. ImageMagick and sharp use several threads.",
];

export function kernelTable(results: readonly KernelResult[]): string {
  return markdownTable(
    ["kernel", "Mpx", "Mpx/s", "min–max", "checksum"],
    results.map(({ name, megapixels, megapixelsPerS: { median, min, max }, checksum }) => [
      name,
      megapixels.toFixed(1),
      rate(median),
      `${rate(min)}–${rate(max)}`,
      checksum,
    ]),
  );
}

const rate = (value: number): string => (value < 10 ? value.toFixed(1) : value.toFixed(0));
