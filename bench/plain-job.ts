import { compare, problemsIn } from "./compare.js";
import { type Job, megapixelsOf, mmFromPixels } from "./job.js";
import { LINES_PER_INCH, type Part, type Setting, sizesOf } from "./setting.js";
import {
  checkNotes,
  checkTable,
  costCells,
  costHead,
  list,
  markdownTable,
  toneNames,
  wallRatio,
} from "./table.js";
import { plain, plainWithLevels } from "./tools/ours.js";
import { grey } from "./tools/pillow.js";

/** A photo to a one-bit PNG, beside general-purpose tools. */
export async function plainJob(setting: Setting): Promise<Part> {
  const { photo, runs, expected } = setting;
  const contenders = [plain, plainWithLevels, ...setting.tools.flatMap((tool) => tool.contenders)];
  const paragraphs = [
    `The photo to a one-bit PNG at ${LINES_PER_INCH} lines per inch, Floyd–Steinberg. Median of ${runs} after a run that was checked.`,
  ];
  const checks = [];
  const problems = [];
  for (const [columns, rows] of sizesOf(setting)) {
    const job: Job = { photo, columns, rows, linesPerInch: LINES_PER_INCH };
    const entries = await compare(
      setting,
      contenders.map((contender) => [contender, job]),
    );
    const pillow = entries.find(({ contender }) => contender.name === grey);
    const table = markdownTable(
      ["job", "tone", ...costHead, "wall / Pillow"],
      entries.map((entry) => [
        entry.contender.name,
        toneNames[entry.contender.tone],
        ...costCells(entry),
        wallRatio(entry, pillow),
      ]),
    );
    paragraphs.push(headingOf(job), table);
    checks.push(checkTable(entries, expected));
    problems.push(...problemsIn(entries));
  }
  paragraphs.push("### What is not equal", list(unequal), "### Checked before timing", ...checks, checkNotes);
  return { paragraphs, problems };
}

function headingOf(job: Job): string {
  const mm = (pixels: number) => mmFromPixels(pixels, job.linesPerInch);
  return `### To ${job.columns} × ${job.rows}: ${megapixelsOf(job.photo).toFixed(1)} to ${megapixelsOf(job).toFixed(1)} Mpx, ${mm(job.columns)} × ${mm(job.rows)} mm`;
}

const unequal: readonly string[] = [
  "Encoded grey means that the photo's code values are dithered as if they were light: cheaper, and its greys come out too light. Only the rows of linear light keep the photo's tones. Pillow, to which all is related, works on encoded grey.",
  "`own tones kept` adds `--no-auto-tone --tone-map luminance`, so that its tones can be checked. `automatic levels` is what the command does without them: it also measures the photo's levels and maps its lightness. Both write a report as well.",
  "Pillow converts to grey first, on code values, and resizes the grey, as most of its users would; colours resized first and converted last cost it more. Its second row lets the JPEG decoder give grey at once, at an eighth, a quarter or half the size where that is enough (draft decoding): faster, and the first half of the reduction is then a box filter.",
  "Filters: Lanczos with three lobes in spotpitch, Pillow, ImageMagick and GraphicsMagick; sharp's is one only when reducing and narrower when enlarging; netpbm mixes pixels, a box.",
  "After decoding, spotpitch, ImageMagick and GraphicsMagick keep 16 bits a sample; Pillow, netpbm and sharp 8.",
  "Error diffusion is Floyd–Steinberg, in alternate directions in spotpitch, ImageMagick and netpbm and always the same way in Pillow. GraphicsMagick's manual calls its own Floyd–Steinberg, but it does not go by rows: a changed pixel changes rows above it, in blocks of 32 as a Hilbert curve visits them. sharp's is the quantiser's own.",
  "sharp has no black and white: its palette holds two greys that its quantiser picks, and tones outside them are lost. Its row shows the time of something less.",
  "ImageMagick as packaged may use 256 MiB and goes through the disk beyond, for minutes at the largest size; here its policy is raised (bench/tools/imagemagick-policy). GraphicsMagick runs within its own limits, shown above.",
  "Every program compresses its PNG as it does unless told otherwise; the sizes are in the tables of checks.",
  "Wall time includes starting the program: Node and sharp for spotpitch, Python for Pillow.",
  "netpbm is a pipe of five or six processes that run at the same time; its peak memory is that of the largest one, its CPU time that of all. spotpitch, ImageMagick, GraphicsMagick and sharp use several threads, Pillow one.",
];
