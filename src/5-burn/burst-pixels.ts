import type { BurstChange } from "./sample-taps.js";

/** A line in two: the pixels that burn as a whole, and those that burn in part. Laid out like the line. */
export interface SplitLine {
  readonly whole: Uint8Array;
  readonly part: Uint8Array;
}

type Change = Pick<BurstChange, "direction" | "shortens" | "wholePx">;

/**
 * Splits a line of bits, eight pixels at a time. A shorter burst keeps the pixels that have `wholePx` burning pixels before them;
 * the first of those burns in part. A longer burst is the same with burning and bare pixels exchanged.
 *
 * Pixels beyond the line count as bare.
 */
export function splitBits(line: Uint8Array, { direction, shortens, wholePx }: Change, out: SplitLine): void {
  const { whole, part } = out;
  if (shortens) {
    part.set(line);
    keepAfter(part, wholePx, direction);
    whole.set(part);
    keepAfter(whole, 1, direction);
    for (let i = 0; i < line.length; i++) part[i] &= ~whole[i];
    return;
  }
  for (let i = 0; i < line.length; i++) whole[i] = ~line[i];
  keepAfter(whole, wholePx, direction, 0xff);
  part.set(whole);
  keepAfter(part, 1, direction, 0xff);
  for (let i = 0; i < line.length; i++) {
    part[i] = ~part[i] & whole[i];
    whole[i] = ~whole[i];
  }
}

/** Keeps the bits that are set together with the `px` bits before them in the direction of travel. */
function keepAfter(bits: Uint8Array, px: number, direction: 1 | -1, beyond = 0): void {
  const and = direction === 1 ? andFromLeft : andFromRight;
  // After n bits are known to be set, one more step tells about n + 1 others.
  for (let known = 0; known < px; ) {
    const by = Math.min(known + 1, px - known);
    and(bits, by, beyond);
    known += by;
  }
}

/** bits[x] &= bits[x − by] */
function andFromLeft(bits: Uint8Array, by: number, beyond: number): void {
  const bytes = by >> 3;
  for (let i = bits.length - 1; i >= 0; i--) {
    const from = i - bytes;
    const left = from > 0 ? bits[from - 1] : beyond;
    bits[i] &= ((left << 8) | (from >= 0 ? bits[from] : beyond)) >> (by & 7);
  }
}

/** bits[x] &= bits[x + by] */
function andFromRight(bits: Uint8Array, by: number, beyond: number): void {
  const bytes = by >> 3;
  for (let i = 0; i < bits.length; i++) {
    const from = i + bytes;
    const right = from + 1 < bits.length ? bits[from + 1] : beyond;
    bits[i] &= (((from < bits.length ? bits[from] : beyond) << 8) | right) >> (8 - (by & 7));
  }
}

/** Splits a line of power levels. What a burst gains has the level of its last pixel. */
export function splitLevels(
  line: Uint8Array,
  { direction, shortens, wholePx }: Change,
  out: SplitLine,
): void {
  const { whole, part } = out;
  const first = direction === 1 ? 0 : line.length - 1;
  /** Pixels since the burst began, or since the last one ended. */
  let run = 0;
  let last = 0;
  for (let n = 0, x = first; n < line.length; n++, x += direction) {
    const burns = line[x] !== 0;
    run = burns === shortens ? run + 1 : 0;
    if (burns) last = line[x];
    const level = shortens ? line[x] : last;
    const keeps = shortens ? run > wholePx + 1 : run <= wholePx;
    whole[x] = keeps ? level : 0;
    part[x] = run === wholePx + 1 ? level : 0;
  }
}
