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
 * Meaning of the white share of the bits: `light`, the linear luminance of the photo; `codes`, its encoded grey, treated as light;
 * `palette`, the same in two greys instead of black and white; `own`, tones changed by spot, material or automatic levels.
 */
export type Tone = "light" | "codes" | "palette" | "own";

/** One run of a contender: its command, and its bitmap. */
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
   * @param kept folder of the contender, empty only before its first run
   */
  readonly run: (job: Job, folder: string, kept: string) => Run;
}

/** A program or library that the comparison needs. No version if it is missing. */
export interface Tool {
  readonly name: string;
  readonly version: string | undefined;
  readonly contenders: readonly Contender[];
}
