import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Kernel, type KernelResult, timeKernels } from "./kernel-timing.js";
import { pillowDiffusion, sharpBlur } from "./other-kernels.js";
import {
  dithered,
  doseFeedbackKernel,
  exposureKernel,
  eyeKernel,
  grading,
  greyOf,
  halftoneKernel,
  predictionKernel,
  resampleKernel,
} from "./our-kernels.js";
import type { Part, Setting } from "./setting.js";
import { spreadOf } from "./statistics.js";
import { list, markdownTable, NONE } from "./table.js";

const FORMS = ["plain", "simd"] as const;
const HALFTONES = [
  ["floyd-steinberg", "serpentine"],
  ["floyd-steinberg", "raster"],
  ["jarvis-judice-ninke", "serpentine"],
  ["blue-noise", "raster"],
] as const;
const SIGMAS_PX = [1.25, 2.5];

/** Speed of our loops, and of the nearest loops of other libraries. */
export async function kernels({ runs, quick }: Setting): Promise<Part> {
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-bench-"));
  const columns = quick ? 800 : 8000;
  const rows = (columns / 4) * 3;
  const large = grading(columns, rows);
  const pillow = pillowDiffusion(large.values, columns, rows, folder);
  try {
    const half = grading(columns / 2, rows / 2);
    const bitmap = dithered(half);
    const grey = greyOf(bitmap);
    const all: Kernel[] = [
      ...(pillow ? [pillow.kernel] : []),
      ...HALFTONES.flatMap(([id, scan]) => FORMS.map((form) => halftoneKernel(form, id, large, scan))),
      ...FORMS.map((form) => doseFeedbackKernel(form, half)),
      ...FORMS.map((form) => resampleKernel(form, large, columns / 2, rows / 2)),
      ...FORMS.map((form) => resampleKernel(form, half, columns, rows)),
      ...SIGMAS_PX.flatMap((sigmaPx) => [
        sharpBlur(grey, bitmap.columns, bitmap.rows, sigmaPx),
        ...FORMS.map((form) => exposureKernel(form, bitmap, sigmaPx)),
      ]),
      ...FORMS.map((form) => predictionKernel(form, bitmap)),
      ...FORMS.map((form) => eyeKernel(quick ? 256 : 1024, form)),
    ];
    const results = await timeKernels(all, runs);
    return {
      paragraphs: [
        `In memory, on one core. Median of ${runs} runs in turns, after two warm-up runs. Ratio: speed relative to the nearest loop of another library, median of the ratios within each round.`,
        kernelTable(results),
        ...(pillow ? [] : ["Missing here: Pillow's kernel."]),
        "### What the kernels do",
        list(notes),
      ],
      problems: results.flatMap(({ kernel, problems }) =>
        problems.map((problem) => `${kernel.name}, ${kernel.form}: ${problem}`),
      ),
    };
  } finally {
    pillow?.stop();
    rmSync(folder, { recursive: true });
  }
}

function kernelTable(results: readonly KernelResult[]): string {
  return markdownTable(
    ["kernel", "form", "Mpx", "Mpx/s", "min–max", "ratio", "checksum"],
    results.map(({ kernel, megapixelsPerS, checksum }) => {
      const { median, min, max } = spreadOf(megapixelsPerS);
      const other = results.find((each) => each.kernel.name === kernel.beside);
      return [
        kernel.name,
        kernel.form,
        (kernel.pixels / 1e6).toFixed(1),
        rate(median),
        `${rate(min)}–${rate(max)}`,
        other ? ratioOf(megapixelsPerS, other.megapixelsPerS) : NONE,
        checksum,
      ];
    }),
  );
}

const ratioOf = (ours: readonly number[], others: readonly number[]): string =>
  spreadOf(ours.map((each, round) => each / others[round])).median.toFixed(2);

const rate = (value: number): string => (value < 10 ? value.toFixed(1) : value.toFixed(0));

const notes: readonly string[] = [
  'Pillow\'s `convert("1")`, timed inside Python: Floyd–Steinberg over 8-bit grey, every line from left to right, errors in whole numbers, to a new picture of one byte a pixel. Ours read 14-bit fractions, copied into their bands, and write packed bits, copied out again. All halftones are beside it, though the larger kernels do more and blue noise diffuses nothing.',
  "sharp's blur: 8-bit grey to 8-bit grey, through its pipeline and a new buffer. Exposure: one bit a pixel to single precision, by the spot and the pixel's own width, followed to 5.5 σ instead of 3.7.",
  "Resampling reads and writes single precision, both axes.",
];
