import { compare, type Entry, problemsIn } from "./compare.js";
import { type Contender, type Job, megapixelsOf, mmFromPixels } from "./job.js";
import type { Part, Setting } from "./setting.js";
import { fitExponent, fitLine, spreadOf } from "./statistics.js";
import { costCells, costHead, markdownTable, NONE, wallRatio } from "./table.js";
import { onCodes } from "./tools/netpbm.js";
import { plain } from "./tools/ours.js";

const LINES_PER_INCH = 1000;

/** The last is 600 × 400 mm at 1000 lines per inch. */
const LARGEST = [23622, 15748] as const;
const STEPS_MPX = [1, 4, 12, 48, 120];
const QUICK_STEPS_MPX = [0.3, 0.6, 1];

/** Time and memory of the plain job against the number of pixels. */
export async function growth(setting: Setting): Promise<Part> {
  const sizes = sizesOf(setting);
  const jobs: Job[] = sizes.map(([columns, rows]) => ({
    ...setting,
    columns,
    rows,
    linesPerInch: LINES_PER_INCH,
  }));
  const netpbm = setting.tools.some(({ contenders }) => contenders.includes(onCodes)) ? [onCodes] : [];
  const tasks: (readonly [Contender, Job])[] = jobs.map((job) => [plain, job]);
  const entries = await compare(setting, [
    ...tasks,
    ...netpbm.map((tool) => [tool, jobs[jobs.length - 1]] as const),
  ]);
  const ours = entries.slice(0, jobs.length);
  const theirs = entries[jobs.length];
  const table = markdownTable(
    ["job", "columns × rows", "mm", "Mpx", ...costHead, "ms/Mpx"],
    entries.map((entry) => [
      entry.contender.name,
      `${entry.job.columns} × ${entry.job.rows}`,
      `${mm(entry.job.columns)} × ${mm(entry.job.rows)}`,
      megapixelsOf(entry.job).toFixed(1),
      ...costCells(entry),
      msPerMpx(entry),
    ]),
  );
  return {
    paragraphs: [
      `The plain job (own tones kept) at ${LINES_PER_INCH} lines per inch, from the same photo.${setting.all || setting.quick ? "" : " `--all` adds 372 Mpx."}`,
      table,
      ...(ours.every(({ problems }) => problems.length === 0) ? [fitOf(ours)] : []),
      ...(theirs
        ? [
            `At ${megapixelsOf(theirs.job).toFixed(0)} Mpx the plain job takes ${wallRatio(ours[ours.length - 1], theirs)} of netpbm's time, which works on encoded grey with a box filter.`,
          ]
        : []),
    ],
    problems: problemsIn(entries),
  };
}

function sizesOf({ quick, all }: Setting): (readonly [columns: number, rows: number])[] {
  const [width, height] = LARGEST;
  const ofShape = (megapixels: number) => {
    const scale = Math.sqrt((megapixels * 1e6) / (width * height));
    return [Math.round(width * scale), Math.round(height * scale)] as const;
  };
  if (quick) return QUICK_STEPS_MPX.map(ofShape);
  return [...STEPS_MPX.map(ofShape), ...(all ? [LARGEST] : [])];
}

const mm = (pixels: number): string => mmFromPixels(pixels, LINES_PER_INCH).toFixed(0);

const msPerMpx = (entry: Entry): string =>
  entry.problems.length > 0 ? NONE : ((medianWall(entry) * 1000) / megapixelsOf(entry.job)).toFixed(1);

const medianWall = ({ costs }: Entry): number => spreadOf(costs.map(({ wallS }) => wallS)).median;

function fitOf(entries: readonly Entry[]): string {
  const megapixels = entries.map(({ job }) => megapixelsOf(job));
  const seconds = entries.map(medianWall);
  const { intercept, slope } = fitLine(megapixels, seconds);
  return `Wall time grows as pixels to the power ${fitExponent(megapixels, seconds).toFixed(2)} (least squares of the logarithms; with start-up and reading of the photo), or as ${(1000 * intercept).toFixed(0)} ms + ${(1000 * slope).toFixed(1)} ms per Mpx (least squares).`;
}
