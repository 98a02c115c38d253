import { type PackedBitmap, unpackRow } from "../core/packed-bits.js";

/** Switching of the beam along the lines of a bitmap. It counts as on at any power above 0. A line starts and ends with it off. */
export interface Switching {
  /** Changes between off and on, mean over lines with a burned pixel; 0 if nothing burns. */
  readonly transitionsPerLine: number;
  /** Lengths of runs of burned pixels; 0 if nothing burns. */
  readonly shortestBurstPx: number;
  readonly meanBurstPx: number;
}

export function switchingOf({ columns, rows, levels, stride, bytes }: PackedBitmap): Switching {
  const unpacked = new Uint8Array(columns);
  let lines = 0;
  let bursts = 0;
  let burnedPx = 0;
  let shortestPx = Number.POSITIVE_INFINITY;
  for (let y = 0; y < rows; y++) {
    let line: Uint8Array = unpacked;
    if (levels === 2) unpackRow(bytes, y * stride, columns, unpacked, 0);
    else line = bytes.subarray(y * stride, y * stride + columns);
    const burstsBefore = bursts;
    for (let x = 0; x < columns; x++) {
      if (line[x] === 0) continue;
      const from = x;
      while (x < columns && line[x] !== 0) x++;
      bursts++;
      burnedPx += x - from;
      if (x - from < shortestPx) shortestPx = x - from;
    }
    if (bursts > burstsBefore) lines++;
  }
  if (bursts === 0) return { transitionsPerLine: 0, shortestBurstPx: 0, meanBurstPx: 0 };
  return {
    transitionsPerLine: (2 * bursts) / lines,
    shortestBurstPx: shortestPx,
    meanBurstPx: burnedPx / bursts,
  };
}
