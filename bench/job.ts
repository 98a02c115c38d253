import { fileURLToPath } from "node:url";
import type { Command } from "./child.js";
import type { BenchPhoto } from "./photo.js";

export const root = fileURLToPath(new URL("..", import.meta.url));

/** A photo to a one-bit PNG of a given size and density. */
export interface Job {
  readonly photo: BenchPhoto;
  readonly columns: number;
  readonly rows: number;
  readonly linesPerInch: number;
}

export const megapixelsOf = ({ columns, rows }: Pick<Job, "columns" | "rows">): number =>
  (columns * rows) / 1e6;
export const mmFromPixels = (pixels: number, linesPerInch: number): number => (pixels * 25.4) / linesPerInch;
export const pixelsPerMetre = ({ linesPerInch }: Job): number => Math.round(linesPerInch / 0.0254);

/**
 * What the white share of the bits stands for: `light`, the photo's linear luminance; `codes`, its encoded grey taken for
 * light; `palette`, the encoded grey again, in two greys instead of black and white; `own`, what spot, material or automatic
 * levels make of it.
 */
export type Tone = "light" | "codes" | "palette" | "own";

/** One run of a contender: what to start, and the bitmap that it leaves. */
export interface Run {
  readonly command: Command;
  readonly environment?: Readonly<Record<string, string>>;
  readonly bitmap: string;
}

/** One way to do the job. */
export interface Contender {
  readonly name: string;
  readonly tone: Tone;
  /**
   * @param folder empty before every run
   * @param kept the contender's own, empty before its first run
   */
  readonly run: (job: Job, folder: string, kept: string) => Run;
}

/** A program or library that the comparison needs; no version where it is missing. */
export interface Tool {
  readonly name: string;
  readonly version: string | undefined;
  readonly contenders: readonly Contender[];
}
