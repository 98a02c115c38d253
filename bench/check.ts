import { readFileSync } from "node:fs";
import sharp from "sharp";
import { type BenchPhoto, shortChecksum } from "./photo.js";
import { PIXELS_PER_METRE, type Tone } from "./tools.js";

/** Tones are compared in this many cells, each a mean over its pixels. */
const CELLS_ALONG = 40;
const CELLS_ACROSS = 30;

/** Furthest that the white share may lie from the tone it stands for: of the whole, and of the cells (root mean square). */
export const MEAN_TOLERANCE = 0.005;
export const CELL_TOLERANCE = 0.01;

/** What a contender wrote. */
export interface Output {
  readonly columns: number;
  readonly rows: number;
  readonly bitDepth: number;
  /** As the file says, along and across; none where it does not say. */
  readonly pixelsPerMetre: readonly [number, number] | undefined;
  readonly fileKiB: number;
  /** Of the pixels, so that neither compression nor a date in the file changes it. */
  readonly checksum: string;
  /** White share of each cell, row-major. */
  readonly cells: Float64Array;
}

export type ExpectedTones = Readonly<Record<Exclude<Tone, "compensated">, Float64Array>>;

export async function readOutput(file: string): Promise<Output> {
  const bytes = readFileSync(file);
  const { columns, rows, bitDepth, pixelsPerMetre } = readPngHeader(bytes);
  const pixels = await sharp(bytes).toColourspace("b-w").raw().toBuffer();
  return {
    columns,
    rows,
    bitDepth,
    pixelsPerMetre,
    fileKiB: bytes.length / 1024,
    checksum: shortChecksum(pixels),
    cells: cellMeans(columns, rows, (i) => pixels[i] / 255),
  };
}

/**
 * The tones that the photo asks for, from its decoded RGB alone: luminance of ITU-R BT.709 from sRGB (IEC 61966-2-1), and
 * the encoded luma of ITU-R BT.601 that ordinary tools call grey.
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

/** What is wrong with an output; nothing in a good one. Compensated tones are not the photo's, so they expect none. */
export function problemsOf(output: Output, photo: BenchPhoto, expected?: Float64Array): string[] {
  const problems: string[] = [];
  if (output.columns !== photo.columns || output.rows !== photo.rows)
    problems.push(`${output.columns} × ${output.rows} pixels instead of ${photo.columns} × ${photo.rows}`);
  if (output.bitDepth !== 1) problems.push(`${output.bitDepth} bits a pixel instead of 1`);
  const [along, across] = output.pixelsPerMetre ?? [0, 0];
  if (along !== PIXELS_PER_METRE || across !== PIXELS_PER_METRE)
    problems.push(`density of ${along} × ${across} pixels a metre instead of ${PIXELS_PER_METRE}`);
  if (!expected) return problems;
  const offset = Math.abs(meanOf(output.cells) - meanOf(expected));
  if (!(offset <= MEAN_TOLERANCE)) problems.push(`mean tone off by ${offset.toFixed(4)}`);
  const rms = rmsDifference(output.cells, expected);
  if (!(rms <= CELL_TOLERANCE)) problems.push(`tones of the cells off by ${rms.toFixed(4)} rms`);
  return problems;
}

export const meanOf = (cells: Float64Array): number =>
  cells.reduce((sum, value) => sum + value, 0) / cells.length;

export const rmsDifference = (a: Float64Array, b: Float64Array): number =>
  Math.sqrt(meanOf(a.map((value, i) => (value - b[i]) ** 2)));

function cellMeans(columns: number, rows: number, valueAt: (i: number) => number): Float64Array {
  const sums = new Float64Array(CELLS_ALONG * CELLS_ACROSS);
  const counts = new Float64Array(sums.length);
  for (let y = 0, i = 0; y < rows; y++) {
    const firstCell = Math.floor((y * CELLS_ACROSS) / rows) * CELLS_ALONG;
    for (let x = 0; x < columns; x++, i++) {
      const cell = firstCell + Math.floor((x * CELLS_ALONG) / columns);
      sums[cell] += valueAt(i);
      counts[cell]++;
    }
  }
  return sums.map((sum, cell) => sum / counts[cell]);
}

/** The facts of a PNG's header chunks (ISO/IEC 15948: IHDR first, pHYs before the first IDAT). */
function readPngHeader(bytes: Buffer) {
  let pixelsPerMetre: Output["pixelsPerMetre"];
  for (let at = 8; at < bytes.length; at += 12 + bytes.readUInt32BE(at)) {
    const type = bytes.toString("latin1", at + 4, at + 8);
    if (type === "IDAT") break;
    if (type === "pHYs" && bytes[at + 16] === 1)
      pixelsPerMetre = [bytes.readUInt32BE(at + 8), bytes.readUInt32BE(at + 12)];
  }
  return {
    columns: bytes.readUInt32BE(16),
    rows: bytes.readUInt32BE(20),
    bitDepth: bytes[24],
    pixelsPerMetre,
  };
}
