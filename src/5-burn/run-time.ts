import { bytesPerRow, countBurned, type PackedBitmap } from "../core/packed-bits.js";
import {
  leastLineTimeS,
  lineTimeS,
  moveTimeS,
  runUpMm,
  speedOfLeastLineTimeMmPerS,
} from "../core/physics/raster-timing.js";

/** How the head moves. */
export interface HeadMotion {
  readonly speedMmPerS: number;
  readonly accelerationMmPerS2: number;
  /** Time of a step to the next line that is not hidden in the reversal, in seconds. */
  readonly stepTimeS: number;
  readonly oneWay: boolean;
}

/** How long a bitmap takes to burn, and on what the time goes. */
export interface RunTime {
  readonly seconds: number;
  /** Lines with at least one burned pixel. */
  readonly lines: number;
  readonly blankLines: number;
  readonly beamOnSeconds: number;
  /** Scan speed of least time for the mean line: above it run-up outgrows the span; mm/s, 0 where nothing burns. */
  readonly quickestSpeedMmPerS: number;
  /** Share of the mean line's time that the best speed would save, 0..1. */
  readonly savedAtQuickestSpeed: number;
}

/** Adds up the run time of a bitmap as its rows come. */
export interface RunTimer {
  /** @param packed rows of a bitmap, as in `core/packed-bits.ts` */
  readonly add: (packed: Uint8Array, count: number) => void;
  readonly runTime: () => RunTime;
  /** Pixels burned so far, at whatever power. */
  readonly burnedPx: () => number;
  /** The same in pixels at full power: Σ k/(levels − 1). */
  readonly fullPowerPx: () => number;
}

/**
 * Run time from the bitmap (section 10): each line spans its first to last burned pixel with run-up and run-out at constant
 * acceleration; blank lines are stepped over; one-way work adds the return. At any power above 0 the beam counts as on.
 */
export function createRunTimer(
  columns: number,
  pitchAlongMm: number,
  head: HeadMotion,
  levels = 2,
): RunTimer {
  const { speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay } = head;
  const stride = bytesPerRow(columns, levels);
  let rows = 0;
  let seconds = 0;
  let lines = 0;
  let beamOnPx = 0;
  let spansMm = 0;
  let levelSum = 0;

  const addLine = (packed: Uint8Array, from: number): void => {
    let first = from;
    let last = from + stride - 1;
    while (first <= last && packed[first] === 0) first++;
    if (first > last) return;
    while (packed[last] === 0) last--;
    let spanPx = last - first + 1;
    if (levels === 2) {
      spanPx = 8 * spanPx - (Math.clz32(packed[first]) - 24) - trailingZeros(packed[last]);
      const burned = countBurned(packed.subarray(first, last + 1));
      beamOnPx += burned;
      levelSum += burned;
    } else {
      for (let at = first; at <= last; at++) {
        beamOnPx += packed[at] === 0 ? 0 : 1;
        levelSum += packed[at];
      }
    }
    const spanMm = spanPx * pitchAlongMm;
    lines++;
    spansMm += spanMm;
    seconds += lineTimeS(spanMm, speedMmPerS, accelerationMmPerS2);
    if (oneWay) {
      const returnMm = spanMm + 2 * runUpMm(speedMmPerS, accelerationMmPerS2);
      seconds += moveTimeS(returnMm, accelerationMmPerS2, speedMmPerS);
    }
  };

  return {
    add(packed, count) {
      for (let y = 0; y < count; y++) addLine(packed, y * stride);
      rows += count;
    },
    runTime() {
      const meanSpanMm = lines === 0 ? 0 : spansMm / lines;
      const meanLineS = lineTimeS(meanSpanMm, speedMmPerS, accelerationMmPerS2);
      return {
        seconds: seconds + Math.max(0, rows - 1) * stepTimeS,
        lines,
        blankLines: rows - lines,
        beamOnSeconds: (beamOnPx * pitchAlongMm) / speedMmPerS,
        quickestSpeedMmPerS: speedOfLeastLineTimeMmPerS(meanSpanMm, accelerationMmPerS2),
        savedAtQuickestSpeed:
          lines === 0 ? 0 : 1 - leastLineTimeS(meanSpanMm, accelerationMmPerS2) / meanLineS,
      };
    },
    burnedPx: () => beamOnPx,
    fullPowerPx: () => levelSum / (levels - 1),
  };
}

/** The same of a whole bitmap. */
export function runTime(bitmap: PackedBitmap, pitchAlongMm: number, head: HeadMotion): RunTime {
  const timer = createRunTimer(bitmap.columns, pitchAlongMm, head, bitmap.levels);
  timer.add(bitmap.bytes, bitmap.rows);
  return timer.runTime();
}

/** Of a byte that is not 0. */
const trailingZeros = (byte: number): number => 31 - Math.clz32(byte & -byte);
