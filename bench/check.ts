import { readFileSync } from "node:fs";
import sharp from "sharp";
import { type Job, pixelsPerMetre, type Tone } from "./job.js";
import { type BenchPhoto, shortChecksum } from "./photo.js";
import { readPngFacts } from "./png-facts.js";

/** Cells for the comparison of tones. Each cell is a mean over its pixels. */
const CELLS_ALONG = 40;
const CELLS_ACROSS = 30;

/** Tolerance of the white share against its tone: of the whole, and of the cells (rms). */
export const MEAN_TOLERANCE = 0.005;
export const CELL_TOLERANCE = 0.01;

/** Tolerance of the whole in two greys, which cannot show darker or lighter tones. */
export const PALETTE_MEAN_TOLERANCE = 0.02;

/** Output of a contender. */
export interface Output {
  readonly columns: number;
  readonly rows: number;
  readonly bitDepth: number;
  /** Density in the file, along and across; undefined without one. */
  readonly pixelsPerMetre: readonly [number, number] | undefined;
  readonly fileKiB: number;
  /** Of the compressed pixels, so a date in the file has no effect. */
  readonly checksum: string;
  /** White share of each cell, row-major. */
  readonly cells: Float64Array;
}

/** Mean of each cell, in linear luminance and in encoded grey. */
export interface ExpectedTones {
  readonly light: Float64Array;
  readonly codes: Float64Array;
}

export async function readOutput(file: string): Promise<Output> {
  const bytes = readFileSync(file);
  const facts = readPngFacts(bytes);
  const decoder = sharp(bytes, { limitInputPixels: false });
  const pixels = await decoder.toColourspace("b-w").raw().toBuffer();
  return {
    ...facts,
    fileKiB: bytes.length / 1024,
    checksum: shortChecksum(facts.compressed),
    cells: cellMeans(facts.columns, facts.rows, (i) => pixels[i] / 255),
  };
}

/** Only the checksum, for outputs that must equal an earlier one. */
export const checksumOfOutput = (file: string): string =>
  shortChecksum(readPngFacts(readFileSync(file)).compressed);

/**
 * The wanted tones, from the decoded RGB of the photo: luminance of ITU-R BT.709 from sRGB (IEC 61966-2-1), and the encoded luma
 * of ITU-R BT.601, which ordinary tools call grey.
 */
export async function expectedTones({ file, columns, rows }: BenchPhoto): Promise<ExpectedTones> {
  const rgb = await sharp(file).raw().toBuffer();
  const linear = Float64Array.from({ length: 256 }, (_, code) => {
    const encoded = code / 255;
    return encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
  });
  return {
    light: cellMeans(
      columns,
      rows,
      (i) => 0.2126 * linear[rgb[3 * i]] + 0.7152 * linear[rgb[3 * i + 1]] + 0.0722 * linear[rgb[3 * i + 2]],
    ),
    codes: cellMeans(
      columns,
      rows,
      (i) => (0.299 * rgb[3 * i] + 0.587 * rgb[3 * i + 1] + 0.114 * rgb[3 * i + 2]) / 255,
    ),
  };
}

/** Expected cells of an output with that tone; undefined if the tone is not that of the photo. */
export const expectedOf = (tone: Tone, { light, codes }: ExpectedTones): Float64Array | undefined =>
  ({ light, codes, palette: codes, own: undefined })[tone];

/** Problems of an output. */
export function problemsOf(output: Output, job: Job, tone: Tone, expected: ExpectedTones): string[] {
  const problems: string[] = [];
  if (output.columns !== job.columns || output.rows !== job.rows)
    problems.push(`${output.columns} × ${output.rows} pixels instead of ${job.columns} × ${job.rows}`);
  if (output.bitDepth !== 1) problems.push(`${output.bitDepth} bits a pixel instead of 1`);
  const wantedDensity = pixelsPerMetre(job);
  const [along, across] = output.pixelsPerMetre ?? [0, 0];
  if (along !== wantedDensity || across !== wantedDensity)
    problems.push(`density of ${along} × ${across} pixels a metre instead of ${wantedDensity}`);
  const wanted = expectedOf(tone, expected);
  if (!wanted) return problems;
  const offset = Math.abs(meanOf(output.cells) - meanOf(wanted));
  if (!(offset <= (tone === "palette" ? PALETTE_MEAN_TOLERANCE : MEAN_TOLERANCE)))
    problems.push(`mean tone off by ${offset.toFixed(4)}`);
  const rms = rmsDifference(output.cells, wanted);
  if (tone !== "palette" && !(rms <= CELL_TOLERANCE))
    problems.push(`tones of the cells off by ${rms.toFixed(4)} rms`);
  return problems;
}

export const meanOf = (cells: Float64Array): number =>
  cells.reduce((sum, value) => sum + value, 0) / cells.length;

export const rmsDifference = (a: Float64Array, b: Float64Array): number =>
  Math.sqrt(meanOf(a.map((value, i) => (value - b[i]) ** 2)));

function cellMeans(columns: number, rows: number, valueAt: (i: number) => number): Float64Array {
  const sums = new Float64Array(CELLS_ALONG * CELLS_ACROSS);
  const counts = new Float64Array(sums.length);
  const cellOfColumn = Uint32Array.from({ length: columns }, (_, x) =>
    Math.floor((x * CELLS_ALONG) / columns),
  );
  for (let y = 0, i = 0; y < rows; y++) {
    const firstCell = Math.floor((y * CELLS_ACROSS) / rows) * CELLS_ALONG;
    for (let x = 0; x < columns; x++, i++) {
      const cell = firstCell + cellOfColumn[x];
      sums[cell] += valueAt(i);
      counts[cell]++;
    }
  }
  return sums.map((sum, cell) => sum / counts[cell]);
}
