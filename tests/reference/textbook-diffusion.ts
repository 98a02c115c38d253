import type { DiffusionKernel } from "../../src/4-halftone/kernels.js";
import type { Scan } from "../../src/4-halftone/method.js";
import type { Random } from "../../src/core/random.js";
import type { Arithmetic } from "./arithmetic.js";

/*
 * Error diffusion pixel by pixel, as in the papers, for comparison. In exact numbers it gives the bits of other libraries. In whole
 * numbers it must give the bits of `src/4-halftone`, which is written for speed.
 */

/** Error that would leave the picture at its sides: lost, as published, or kept, as `side-error.ts` of the stage says. */
export type Sides = "keep" | "drop";

/** Turns row y of fractions into bits, with more power levels into levels 0..n − 1. Rows come in order, each once. */
export type TextbookRow = (fractions: ArrayLike<number>, y: number, bits: Uint8Array) => void;

/** The level nearest to `wanted`, 0..n − 1; with noise the threshold between two is so much of a step higher. */
function nearest(wanted: number, one: number, levels: number, noise = 0): number {
  const level = Math.floor((wanted * (levels - 1) - noise) / one + 0.5);
  return Math.min(Math.max(level, 0), levels - 1);
}

/** R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. SID 17(2) (1976), for any stencil. */
export function diffuse(
  { taps, divisor }: DiffusionKernel,
  columns: number,
  scan: Scan,
  sides: Sides,
  { one, split, levelOf }: Arithmetic,
  levels = 2,
): TextbookRow {
  const shares = taps.map(([, , weight]) => weight / divisor);
  const straightBelow = taps.findIndex(([dx, dy]) => dx === 0 && dy === 1);
  const rest = straightBelow < 0 ? taps.length - 1 : straightBelow;
  const error = new ErrorRows(columns, Math.max(...taps.map(([, dy]) => dy)), sides, one / (levels - 1));
  return (fractions, y, bits) => {
    const step = scan === "serpentine" && Math.abs(y) % 2 === 1 ? -1 : 1;
    error.beginRow();
    for (let n = 0, x = step === 1 ? 0 : columns - 1; n < columns; n++, x += step) {
      const wanted = Math.max(fractions[x], 0) + error.at(x);
      const level = nearest(wanted, one, levels);
      bits[x] = fractions[x] < 0 ? 0 : level;
      split(wanted - levelOf(level, levels), shares, rest).forEach((share, k) => {
        error.add(x + step * taps[k][0], taps[k][1], share);
      });
    }
    error.endRow();
  };
}

/** Threshold noise: up to `strength` (0..1) of half a step above the usual threshold, by folded level. */
export interface ThresholdNoise {
  readonly strength: Float64Array;
  readonly random: Random;
}

/**
 * V. Ostromoukhov, "A simple and efficient error-diffusion algorithm", Proc. SIGGRAPH 2001; with noise, B. Zhou and X. Fang,
 * "Improving mid-tone quality of variable-coefficient error diffusion using threshold modulation", ACM Trans. Graphics 22(3)
 * (2003). Between two of more levels shares and noise are those of the place between them.
 *
 * @param shares [128 × 3] right, down-left, down by folded level
 */
export function diffuseVariable(
  shares: Float64Array,
  columns: number,
  scan: Scan,
  sides: Sides,
  { one, split, noiseOf, levelOf }: Arithmetic,
  noise?: ThresholdNoise,
  levels = 2,
): TextbookRow {
  const error = new ErrorRows(columns, 1, sides, one / (levels - 1));
  return (fractions, y, bits) => {
    const step = scan === "serpentine" && Math.abs(y) % 2 === 1 ? -1 : 1;
    error.beginRow();
    for (let n = 0, x = step === 1 ? 0 : columns - 1; n < columns; n++, x += step) {
      const asked = Math.max(fractions[x], 0);
      const place = ((asked * (levels - 1)) % one) / one; // 0 at every level: the table's two ends are alike
      const tabled = Math.min(255, Math.round(place * 255));
      const folded = tabled < 128 ? tabled : 255 - tabled;
      const wanted = asked + error.at(x);
      const raised = noise ? noiseOf(noise.strength[folded], noise.random()) : 0;
      const level = nearest(wanted, one, levels, raised);
      bits[x] = fractions[x] < 0 ? 0 : level;
      const [right, downLeft, down] = split(
        wanted - levelOf(level, levels),
        shares.subarray(3 * folded, 3 * folded + 3),
        2,
      );
      error.add(x + step, 0, right);
      error.add(x - step, 1, downLeft);
      error.add(x, 1, down);
    }
    error.endRow();
  };
}

/**
 * Output feedback of R. Levien (1993) and weight jitter of D. L. Lau, G. R. Arce and N. C. Gallagher (1998), as
 * `src/4-halftone/green-noise.ts` describes them.
 */
export function diffuseGreenNoise(
  clumping: number,
  columns: number,
  scan: Scan,
  { one, split, jitteredHalf, product }: Arithmetic,
  random: Random,
): TextbookRow {
  const aboveError = new Float64Array(columns);
  const aboveOutput = new Float64Array(columns);
  const hold = (x: number) => {
    aboveError[x] = Math.min(Math.max(aboveError[x], -3 * one), 3 * one);
  };
  return (fractions, y, bits) => {
    const step = scan === "serpentine" && Math.abs(y) % 2 === 1 ? -1 : 1;
    hold(0);
    hold(columns - 1);
    let errorBehind = 0;
    let outputBehind = 0;
    let x = step === 1 ? 0 : columns - 1;
    for (let n = 0; n < columns; n++, x += step) {
      const asked = Math.max(fractions[x], 0);
      const behind = jitteredHalf(random());
      const wanted = asked + errorBehind + aboveError[x];
      const pull = product(clumping, product(behind, outputBehind, 1 - behind, aboveOutput[x]));
      const bit = wanted + pull >= one / 2 ? 1 : 0;
      bits[x] = fractions[x] < 0 ? 0 : bit;
      [errorBehind, aboveError[x]] = split(wanted - one * bit, [behind, 1 - behind], 1);
      outputBehind = one * bit - asked;
      aboveOutput[x] = outputBehind;
    }
    aboveError[x - step] += errorBehind;
  };
}

/** Columns beside the picture that the widest stencil reaches. */
const MARGIN = 3;

/** Error received by the current row and the rows below it. */
class ErrorRows {
  private readonly rows: Float64Array[];

  constructor(
    private readonly columns: number,
    rowsBelow: number,
    private readonly sides: Sides,
    private readonly step: number,
  ) {
    this.rows = Array.from({ length: rowsBelow + 1 }, () => new Float64Array(columns + 2 * MARGIN));
  }

  at(x: number): number {
    return this.rows[0][MARGIN + x];
  }

  add(x: number, dy: number, share: number): void {
    this.rows[dy][MARGIN + x] += share;
  }

  beginRow(): void {
    if (this.sides === "drop") return;
    const most = this.step < 1 ? (9 * this.step) / 16 : Math.floor((9 * this.step) / 16);
    for (const x of [MARGIN, MARGIN + this.columns - 1]) {
      this.rows[0][x] = Math.min(Math.max(this.rows[0][x], -most), most);
    }
  }

  endRow(): void {
    const [done, ...others] = this.rows;
    if (this.sides === "keep") {
      const last = MARGIN + this.columns - 1;
      for (const [row, heir] of [[done, others[0]], ...others.map((other) => [other, other])]) {
        for (let k = 0; k < MARGIN; k++) {
          heir[MARGIN] += row[k];
          heir[last] += row[last + 1 + k];
          row[k] = 0;
          row[last + 1 + k] = 0;
        }
      }
    }
    done.fill(0);
    this.rows.push(...this.rows.splice(0, 1));
  }
}
