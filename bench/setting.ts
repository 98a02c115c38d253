import type { ExpectedTones } from "./check.js";
import type { Tool } from "./job.js";
import type { BenchPhoto } from "./photo.js";

/** Settings of all parts of the benchmark. */
export interface Setting {
  readonly photo: BenchPhoto;
  readonly expected: ExpectedTones;
  /** Timed runs of each contender, after the first runs. */
  readonly runs: number;
  /** Small pictures, as a test that everything works. */
  readonly quick: boolean;
  /** Also run the largest piece. */
  readonly all: boolean;
  readonly tools: readonly Tool[];
  readonly gnuTime: string | undefined;
}

/** Result of a part: paragraphs of Markdown, and problems. */
export interface Part {
  readonly paragraphs: readonly string[];
  readonly problems: readonly string[];
}

/** Default lines per inch: a pitch of 0.05 mm. */
export const LINES_PER_INCH = 508;

/** Sizes of the bitmaps made from one photo. */
export const sizesOf = ({ quick }: Setting): readonly (readonly [columns: number, rows: number])[] =>
  quick
    ? [[800, 600]]
    : [
        [2000, 1500],
        [4000, 3000],
        [8000, 6000],
      ];
