import type { ExpectedTones } from "./check.js";
import type { Tool } from "./job.js";
import type { BenchPhoto } from "./photo.js";

/** What all parts of the benchmark share. */
export interface Setting {
  readonly photo: BenchPhoto;
  readonly expected: ExpectedTones;
  /** Timed runs of each, after the first ones. */
  readonly runs: number;
  /** Small pictures: shows that everything works, not how fast it is. */
  readonly quick: boolean;
  /** The largest piece as well. */
  readonly all: boolean;
  readonly tools: readonly Tool[];
  readonly gnuTime: string | undefined;
}

/** What a part found: paragraphs of Markdown, and what was not as it should be. */
export interface Part {
  readonly paragraphs: readonly string[];
  readonly problems: readonly string[];
}

/** Lines per inch where the part does not say: 0.05 mm from line to line. */
export const LINES_PER_INCH = 508;

/** Sizes of the bitmaps that one photo is made into. */
export const sizesOf = ({ quick }: Setting): readonly (readonly [columns: number, rows: number])[] =>
  quick
    ? [[800, 600]]
    : [
        [2000, 1500],
        [4000, 3000],
        [8000, 6000],
      ];
