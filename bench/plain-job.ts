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

/** A photo to a one-bit PNG, compared with general-purpose tools. */
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
  "Encoded grey means that the code values of the photo are dithered as if they were light. This is cheaper, but greys become too light. Only the rows of linear light keep the tones of the photo. Pillow, the reference of all ratios, works on encoded grey.",
  "`own tones kept` adds `--no-auto-tone --tone-map luminance`, so its tones can be checked. `automatic levels` is the default: it also measures the levels of the photo and maps its lightness. Both also write a report.",
  "Pillow converts to grey first, on code values, and resizes the grey, as most of its users do. Resizing in colour would cost more. In its second row the JPEG decoder gives grey directly, at an eighth, a quarter or half the size if that is enough (draft decoding). This is faster, but the first part of the reduction is then a box filter.",
  "Filters: Lanczos with three lobes in spotpitch, Pillow, ImageMagick and GraphicsMagick; sharp has three lobes only for reductions and fewer for enlargements; netpbm uses a box.",
  "After decoding, spotpitch, ImageMagick and GraphicsMagick keep 16 bits a sample; Pillow, netpbm and sharp 8.",
  "Error diffusion is Floyd–Steinberg: in alternate directions in spotpitch, ImageMagick and netpbm, always in the same direction in Pillow. The manual of GraphicsMagick also says Floyd–Steinberg, but a changed pixel changes rows above it, in blocks of 32 along a Hilbert curve. sharp uses the diffusion of its quantiser.",
  "sharp has no black and white: its quantiser picks two greys, and tones outside them are lost. So its row shows the time of a smaller task.",
  "The packaged ImageMagick may use 256 MiB and uses the disk beyond, for minutes at the largest size. Here its limit is raised (bench/tools/imagemagick-policy). GraphicsMagick runs within its own limits, shown above.",
  "Every program compresses its PNG with its default; the tables of checks show the sizes.",
  "Wall time includes starting the program: Node and sharp for spotpitch, Python for Pillow.",
  "netpbm is a pipe of five or six parallel processes. Its peak memory is that of the largest process, its CPU time that of all. spotpitch, ImageMagick, GraphicsMagick and sharp use several threads, Pillow one.",
];
