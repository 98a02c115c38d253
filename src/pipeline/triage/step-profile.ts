import type { SourceWindow } from "../../3-resample/source-window.js";
import { columnsOf, type Plane, rowsOf } from "../../core/plane.js";

/** Number of measured lines, evenly spread. */
const LINES = 400;
/** Steps show where the picture is even: where it changes by less than this on both sides of a step, in 8-bit codes. */
const EVEN = 5;
/** Larger steps are edges of the picture. */
const MAX_STEP = 24;
/** A place where fewer lines than this are even says nothing. */
const MIN_LINES = 8;

/** Lines of a picture: where they are in `codes`, and how many pixels are taken together along them. */
export interface Lines {
  readonly codes: Uint16Array;
  readonly first: number;
  readonly count: number;
  readonly length: number;
  readonly lineStep: number;
  readonly step: number;
}

/** Rows and columns of a part of a picture, with the mean of `by` pixels as one. */
export function linesOf(
  light: Plane<"encoded-luminance", Uint16Array>,
  { left, top, width, height }: SourceWindow,
  by: number,
): readonly [rows: Lines, columns: Lines] {
  const { data: codes, offset, stride } = light.pixels;
  const [lineStep = 0, step = 0] = stride;
  const [x, y] = [Math.floor(left), Math.floor(top)];
  const [columns, rows] = [
    Math.min(columnsOf(light) - x, Math.floor(width)),
    Math.min(rowsOf(light) - y, Math.floor(height)),
  ];
  const first = offset + y * lineStep + x * step;
  return [
    { codes, first, count: rows, length: Math.floor(columns / by), lineStep, step },
    { codes, first, count: columns, length: Math.floor(rows / by), lineStep: step, step: lineStep },
  ];
}

/**
 * How far steps over each of some lags stand out from the steps before and after them, by their place along the lines: the mean over
 * even parts of all lines, in 8-bit codes, without the mean over all places.
 *
 * @param by pixels taken together
 * @param lagsPx distances of steps, in pixels that were taken together
 */
export function stepProfiles(lines: Lines, by: number, lagsPx: readonly number[]): Float64Array[] {
  const { count, length } = lines;
  const profiles = lagsPx.map((lag) => ({
    lag,
    sums: new Float64Array(length),
    counts: new Float64Array(length),
  }));
  const line = new Float32Array(length);
  const every = Math.ceil(count / LINES);
  for (let number = every >> 1; number < count; number += every) {
    readLine(lines, number, by, line);
    for (const profile of profiles) addSteps(line, profile);
  }
  return profiles.map(({ sums, counts }) => {
    const means = sums.map((sum, at) => (counts[at] < MIN_LINES ? 0 : sum / counts[at]));
    const mean = means.reduce((total, value) => total + value, 0) / Math.max(1, length);
    return means.map((value) => value - mean);
  });
}

interface StepSums {
  readonly lag: number;
  readonly sums: Float64Array;
  readonly counts: Float64Array;
}

function readLine({ codes, first, lineStep, step }: Lines, number: number, by: number, line: Float32Array) {
  let at = first + number * lineStep;
  for (let i = 0; i < line.length; i++) {
    let sum = 0;
    for (let k = 0; k < by; k++, at += step) sum += codes[at];
    line[i] = sum / (257 * by);
  }
}

function addSteps(line: Float32Array, { lag, sums, counts }: StepSums): void {
  for (let i = lag; i + 2 * lag < line.length; i++) {
    const before = Math.abs(line[i] - line[i - lag]);
    const after = Math.abs(line[i + 2 * lag] - line[i + lag]);
    if (before > EVEN || after > EVEN) continue;
    const here = Math.abs(line[i + lag] - line[i]);
    if (here > MAX_STEP) continue;
    sums[i] += Math.max(0, here - (before + after) / 2);
    counts[i]++;
  }
}
