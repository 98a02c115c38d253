import {
  leastLineTimeS,
  lineTimeS,
  moveTimeS,
  runUpMm,
  speedOfLeastLineTimeMmPerS,
} from "../core/raster-timing.js";
import type { BitmapRows } from "./exposure.js";

/** How the head moves. */
export interface HeadMotion {
  readonly speedMmPerS: number;
  readonly accelerationMmPerS2: number;
  /** Time of a step to the next line that is not hidden in the reversal, in seconds. */
  readonly stepTimeS: number;
  readonly oneWay: boolean;
}

export interface RunTime {
  readonly seconds: number;
  /** Lines with at least one burned pixel. */
  readonly lines: number;
  readonly blankLines: number;
  readonly beamOnSeconds: number;
  /** Scan speed of least time for the mean line: above it run-up outgrows the span; mm/s, 0 where nothing burns. */
  readonly bestSpeedMmPerS: number;
  /** Share of the mean line's time that the best speed would save, 0..1. */
  readonly savedAtBestSpeed: number;
}

/**
 * Run time from the bitmap (section 10): each line spans its first to last burned pixel with run-up and run-out at constant
 * acceleration; blank lines are stepped over; one-way work adds the return.
 */
export function runTime(
  bitmapRow: BitmapRows,
  columns: number,
  rows: number,
  pitchAlongMm: number,
  head: HeadMotion,
): RunTime {
  let seconds = 0;
  let lines = 0;
  let beamOnPx = 0;
  let spansMm = 0;
  for (let y = 0; y < rows; y++) {
    const bits = bitmapRow(y);
    let first = -1;
    let last = -1;
    for (let x = 0; x < columns; x++) {
      if (bits[x] === 0) continue;
      if (first < 0) first = x;
      last = x;
      beamOnPx += bits[x];
    }
    if (first < 0) continue;
    lines++;
    const spanMm = (last - first + 1) * pitchAlongMm;
    spansMm += spanMm;
    seconds += lineTimeS(spanMm, head.speedMmPerS, head.accelerationMmPerS2);
    if (head.oneWay) {
      const returnMm = spanMm + 2 * runUpMm(head.speedMmPerS, head.accelerationMmPerS2);
      seconds += moveTimeS(returnMm, head.accelerationMmPerS2, head.speedMmPerS);
    }
  }
  const meanSpanMm = lines === 0 ? 0 : spansMm / lines;
  const meanLineS = lineTimeS(meanSpanMm, head.speedMmPerS, head.accelerationMmPerS2);
  return {
    seconds: seconds + Math.max(0, rows - 1) * head.stepTimeS,
    lines,
    blankLines: rows - lines,
    beamOnSeconds: (beamOnPx * pitchAlongMm) / head.speedMmPerS,
    bestSpeedMmPerS: speedOfLeastLineTimeMmPerS(meanSpanMm, head.accelerationMmPerS2),
    savedAtBestSpeed: lines === 0 ? 0 : 1 - leastLineTimeS(meanSpanMm, head.accelerationMmPerS2) / meanLineS,
  };
}
