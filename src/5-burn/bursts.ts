import { unpackRow } from "../core/packed-bits.js";

/** Power levels of a row of a bitmap, one byte per pixel. */
export function lineLevels(row: Uint8Array, columns: number, levels: number): Uint8Array {
  if (levels > 2) return row;
  const line = new Uint8Array(columns);
  unpackRow(row, 0, columns, line, 0);
  return line;
}

/**
 * Calls `burst` for each run of pixels at any power.
 *
 * @param burst gets the length of the run, and of the gap after it: Infinity after the last one
 */
export function eachBurst(line: Uint8Array, burst: (px: number, gapPx: number) => void): void {
  let x = line.findIndex((level) => level !== 0);
  while (x >= 0 && x < line.length) {
    const from = x;
    while (x < line.length && line[x] !== 0) x++;
    const end = x;
    while (x < line.length && line[x] === 0) x++;
    burst(end - from, x < line.length ? x - end : Number.POSITIVE_INFINITY);
  }
}

/**
 * Length that the bursts of a line lose, in pixels; negative if they gain.
 *
 * @param lossPx loss of each burst. One no longer than that is lost as a whole. Negative: each burst gains it, up to the next burst
 */
export function lostOfBursts(line: Uint8Array, lossPx: number): number {
  let lostPx = 0;
  eachBurst(line, (px, gapPx) => {
    lostPx += lossPx > 0 ? Math.min(px, lossPx) : -Math.min(gapPx, -lossPx);
  });
  return lostPx;
}
