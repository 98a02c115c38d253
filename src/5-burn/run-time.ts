import { bytesPerRow, countBurned, type PackedBitmap } from "../core/packed-bits.js";
import {
  lineTimeS,
  minLineTimeS,
  moveTimeS,
  runUpMm,
  speedOfMinLineTimeMmPerS,
} from "../core/physics/raster-timing.js";
import { lineLevels, lostOfBursts } from "./bursts.js";

/** How the head moves. */
export interface HeadMotion {
  readonly speedMmPerS: number;
  readonly accelerationMmPerS2: number;
  /** Time of a step to the next line beyond the time of the reversal, in seconds. */
  readonly stepTimeS: number;
  readonly oneWay: boolean;
  /** Time by which the source starts later than it stops; default 0. */
  readonly firingLossUs?: number | undefined;
  /** How often the whole bitmap is burned; default 1. */
  readonly passes?: number | undefined;
}

/** Run time of a bitmap, and its parts. */
export interface RunTime {
  /** Of all passes, like the time with the beam on. */
  readonly seconds: number;
  /** Lines with at least one burned pixel. */
  readonly lines: number;
  readonly blankLines: number;
  /** Without what a firing loss takes from bursts. */
  readonly beamOnSeconds: number;
  /** Fastest scan speed for the mean line, mm/s. Above it the run-up costs more time than the span saves. 0 if nothing burns. */
  readonly quickestSpeedMmPerS: number;
  /** Share of the mean line's time that the best speed would save, 0..1. */
  readonly savedAtQuickestSpeed: number;
}

/**
 * Run time of a bitmap, row by row (section 10). A line runs from its first to its last burned pixel, with run-up and run-out at
 * constant acceleration. Blank lines take only a step. One-way work adds the return. The beam counts as on at any power above 0.
 */
export class RunTimer {
  private readonly stride: number;
  private rows = 0;
  private lines = 0;
  private seconds = 0;
  private spansMm = 0;
  private beamOnPx = 0;
  private levelSum = 0;
  private lostPx = 0;
  private readonly lossPx: number;

  /**
   * @param pitchAlongMm from one pixel of a line to the next
   * @param levels power levels of the bitmap, 2..256
   */
  constructor(
    private readonly columns: number,
    private readonly pitchAlongMm: number,
    private readonly head: HeadMotion,
    private readonly levels = 2,
  ) {
    this.stride = bytesPerRow(columns, levels);
    this.lossPx = ((head.firingLossUs ?? 0) * 1e-6 * head.speedMmPerS) / pitchAlongMm;
  }

  /** @param packed rows of a bitmap, as in `core/packed-bits.ts` */
  add(packed: Uint8Array, count: number): void {
    for (let y = 0; y < count; y++) {
      const spanPx = this.addPixels(packed, y * this.stride);
      if (spanPx > 0) this.addLine(spanPx * this.pitchAlongMm);
      if (spanPx > 0 && this.lossPx !== 0) this.lostPx += this.lostAt(packed, y * this.stride);
    }
    this.rows += count;
  }

  runTime(): RunTime {
    const { accelerationMmPerS2, speedMmPerS, stepTimeS, passes = 1 } = this.head;
    const { lines, rows } = this;
    const meanSpanMm = lines === 0 ? 0 : this.spansMm / lines;
    const meanLineS = lineTimeS(meanSpanMm, speedMmPerS, accelerationMmPerS2);
    return {
      seconds: passes * (this.seconds + Math.max(0, rows - 1) * stepTimeS),
      lines,
      blankLines: rows - lines,
      beamOnSeconds: (passes * (this.beamOnPx - this.lostPx) * this.pitchAlongMm) / speedMmPerS,
      quickestSpeedMmPerS: speedOfMinLineTimeMmPerS(meanSpanMm, accelerationMmPerS2),
      savedAtQuickestSpeed: lines === 0 ? 0 : 1 - minLineTimeS(meanSpanMm, accelerationMmPerS2) / meanLineS,
    };
  }

  /** Pixels burned so far, at any power. */
  burnedPx(): number {
    return this.beamOnPx;
  }

  /** The same in pixels at full power: Σ k/(levels − 1). */
  fullPowerPx(): number {
    return this.levelSum / (this.levels - 1);
  }

  /** Counts the burned pixels of a row. Returns the pixels from the first to the last of them, 0 for a blank row. */
  private addPixels(packed: Uint8Array, from: number): number {
    let first = from;
    let last = from + this.stride - 1;
    while (first <= last && packed[first] === 0) first++;
    if (first > last) return 0;
    while (packed[last] === 0) last--;
    if (this.levels === 2) {
      const burned = countBurned(packed.subarray(first, last + 1));
      this.beamOnPx += burned;
      this.levelSum += burned;
      return 8 * (last - first + 1) - (Math.clz32(packed[first]) - 24) - trailingZeros(packed[last]);
    }
    for (let at = first; at <= last; at++) {
      this.beamOnPx += packed[at] === 0 ? 0 : 1;
      this.levelSum += packed[at];
    }
    return last - first + 1;
  }

  private lostAt(packed: Uint8Array, from: number): number {
    const line = packed.subarray(from, from + this.stride);
    return lostOfBursts(lineLevels(line, this.columns, this.levels), this.lossPx);
  }

  private addLine(spanMm: number): void {
    const { speedMmPerS, accelerationMmPerS2, oneWay } = this.head;
    this.lines++;
    this.spansMm += spanMm;
    this.seconds += lineTimeS(spanMm, speedMmPerS, accelerationMmPerS2);
    if (!oneWay) return;
    const returnMm = spanMm + 2 * runUpMm(speedMmPerS, accelerationMmPerS2);
    this.seconds += moveTimeS(returnMm, accelerationMmPerS2, speedMmPerS);
  }
}

/** Run time of a whole bitmap: see `RunTimer`. */
export function runTime(bitmap: PackedBitmap, pitchAlongMm: number, head: HeadMotion): RunTime {
  const timer = new RunTimer(bitmap.columns, pitchAlongMm, head, bitmap.levels);
  timer.add(bitmap.bytes, bitmap.rows);
  return timer.runTime();
}

/** For a byte other than 0. */
const trailingZeros = (byte: number): number => 31 - Math.clz32(byte & -byte);
