import type { PackedBitmap } from "../core/packed-bits.js";
import { eachBurst, lineLevels } from "./bursts.js";

/** Switching of the beam along the lines of a bitmap. It counts as on at any power above 0. A line starts and ends with it off. */
export interface Switching {
  /** Changes between off and on, mean over lines with a burned pixel; 0 if nothing burns. */
  readonly transitionsPerLine: number;
  /** Lengths of runs of burned pixels; 0 if nothing burns. */
  readonly shortestBurstPx: number;
  readonly meanBurstPx: number;
}

export function switchingOf({ columns, rows, levels, stride, bytes }: PackedBitmap): Switching {
  let lines = 0;
  let bursts = 0;
  let burnedPx = 0;
  let shortestPx = Number.POSITIVE_INFINITY;
  for (let y = 0; y < rows; y++) {
    const burstsBefore = bursts;
    eachBurst(lineLevels(bytes.subarray(y * stride, (y + 1) * stride), columns, levels), (px) => {
      bursts++;
      burnedPx += px;
      if (px < shortestPx) shortestPx = px;
    });
    if (bursts > burstsBefore) lines++;
  }
  if (bursts === 0) return { transitionsPerLine: 0, shortestBurstPx: 0, meanBurstPx: 0 };
  return {
    transitionsPerLine: (2 * bursts) / lines,
    shortestBurstPx: shortestPx,
    meanBurstPx: burnedPx / bursts,
  };
}
