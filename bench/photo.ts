import { createHash } from "node:crypto";
import { existsSync, readFileSync, renameSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { type Random, seededRandom } from "../src/core/random.js";

export interface BenchPhoto {
  readonly file: string;
  readonly columns: number;
  readonly rows: number;
  /** First digits of the file's SHA-256. */
  readonly checksum: string;
}

/** Part of the file name. Increase it when the picture below changes. */
const PICTURE_VERSION = 2;
const SEED = 2026;

/** Waves of texture over the picture's width, and their amplitudes in encoded value 0..1. */
const OCTAVES = [
  { cells: 12, amplitude: 0.1 },
  { cells: 60, amplitude: 0.07 },
  { cells: 300, amplitude: 0.05 },
  { cells: 1500, amplitude: 0.1 },
] as const;
const NOISE_AMPLITUDE = 0.08;

/** A synthetic colour JPEG of quality 92, of the size of a phone photo, made once in the temporary folder. */
export async function benchPhoto(columns: number, rows: number): Promise<BenchPhoto> {
  const file = join(tmpdir(), `spotpitch-bench-${PICTURE_VERSION}-${columns}x${rows}.jpg`);
  if (!existsSync(file)) {
    // Renamed when complete, so a parallel run never reads half a file.
    const unfinished = `${file}.${process.pid}`;
    const pixels = shadedPicture(columns, rows, seededRandom(SEED));
    await sharp(pixels, { raw: { width: columns, height: rows, channels: 3 } })
      .jpeg({ quality: 92 })
      .toFile(unfinished);
    renameSync(unfinished, file);
  }
  return { file, columns, rows, checksum: shortChecksum(readFileSync(file)) };
}

export const shortChecksum = (bytes: Uint8Array): string =>
  createHash("sha256").update(bytes).digest("hex").slice(0, 8);

/**
 * A picture with the features of a photo that affect speed and size: smooth shading from near black to near white, an edge, texture
 * at four scales and sensor noise, in faint colours from blue to yellow. RGB, encoded, row-major.
 */
function shadedPicture(columns: number, rows: number, random: Random): Uint8Array {
  const pixels = new Uint8Array(3 * columns * rows);
  const octaves = OCTAVES.map(({ cells, amplitude }) => valueNoise(cells, amplitude, columns, rows, random));
  const across = Float32Array.from({ length: columns }, (_, x) => Math.sin((5 * x) / columns));
  const texture = new Float32Array(columns);
  const noise = () => 255 * NOISE_AMPLITUDE * (random() - random());
  for (let y = 0, at = 0; y < rows; y++) {
    const v = y / rows;
    const horizon = 0.1 * Math.tanh(60 * (0.6 - v));
    const down = 0.24 * Math.cos(3 * v);
    texture.fill(0);
    for (const addRow of octaves) addRow(y, texture);
    for (let x = 0; x < columns; x++, at += 3) {
      const value = 255 * (0.52 + horizon + 0.22 * across[x] + down + texture[x]);
      const tint = 8 * across[x];
      pixels[at] = Math.min(255, Math.max(0, value + tint + noise()));
      pixels[at + 1] = Math.min(255, Math.max(0, value + noise()));
      pixels[at + 2] = Math.min(255, Math.max(0, value - tint + noise()));
    }
  }
  return pixels;
}

/** Random values on a lattice of square cells, linear in between. The returned function adds row y of them. */
function valueNoise(cells: number, amplitude: number, columns: number, rows: number, random: Random) {
  const stride = cells + 2;
  const step = cells / columns;
  const lattice = Float32Array.from({ length: stride * (Math.ceil(rows * step) + 2) }, () => random() - 0.5);
  return (y: number, row: Float32Array): void => {
    const top = Math.floor(y * step);
    const down = y * step - top;
    for (let x = 0; x < columns; x++) {
      const left = Math.floor(x * step);
      const right = x * step - left;
      const at = top * stride + left;
      const upper = lattice[at] + (lattice[at + 1] - lattice[at]) * right;
      const lower = lattice[at + stride] + (lattice[at + stride + 1] - lattice[at + stride]) * right;
      row[x] += 2 * amplitude * (upper + (lower - upper) * down);
    }
  };
}
