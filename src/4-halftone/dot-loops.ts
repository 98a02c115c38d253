import type { KernelMemory } from "../core/kernel-memory.js";

/*
 * The loops of dot diffusion, in both forms: see `src/simd/dot-diffusion.ts`. Arrays are from `memory`, `…At` are indices.
 */

/** Take a row of fractions apart by column of the class matrix, and note in `bare` which pixels must stay bare. */
export function splitDots(
  { simd }: KernelMemory,
  fractions: Int16Array,
  from: number,
  columns: number,
  side: number,
  wanted: Int32Array,
  wantedAt: number,
  phaseStride: number,
  bare: Int32Array,
  bareAt: number,
): void {
  if (simd) {
    const [source, to] = [fractions.byteOffset + 2 * from, wanted.byteOffset + 4 * wantedAt];
    simd.splitDots(source, columns, side, to, 4 * phaseStride, bare.byteOffset + 4 * bareAt);
    return;
  }
  for (let x = 0; x < columns; ) {
    let word = 0;
    for (let phase = 0; phase < side && x < columns; phase++, x++) {
      const fraction = fractions[from + x];
      wanted[wantedAt + phase * phaseStride] = Math.max(fraction, 0);
      if (fraction < 0) word |= 1 << (side - 1 - phase);
    }
    bare[bareAt++] = word;
    wantedAt++;
  }
}

/**
 * Decide `count` pixels of one class, set `bit` in the words of those that burn, and hand their errors to `targets`, the
 * last of which takes what the weights of the others leave.
 */
export function settleDots(
  { simd }: KernelMemory,
  wanted: Int32Array,
  pixelsAt: number,
  count: number,
  words: Int32Array,
  wordsAt: number,
  bit: number,
  targets: Int32Array,
  weights: Int32Array,
  targetCount: number,
): void {
  if (simd) {
    const base = wanted.byteOffset;
    const wordsFrom = words.byteOffset + 4 * wordsAt;
    simd.settleDots(
      base,
      pixelsAt,
      count,
      wordsFrom,
      bit,
      targets.byteOffset,
      weights.byteOffset,
      targetCount,
    );
    return;
  }
  const last = targetCount - 1;
  for (let i = 0; i < count; i++) {
    const value = wanted[pixelsAt + i];
    const burned = (8191 - value) >> 31;
    words[wordsAt + i] |= burned & bit;
    const error = value - (burned & 16384);
    let rest = error;
    for (let k = 0; k < last; k++) {
      const share = (error * weights[k] + 8192) >> 14;
      wanted[targets[k] + i] += share;
      rest -= share;
    }
    if (last >= 0) wanted[targets[last] + i] += rest;
  }
}

/** A row of words of `side` bits, less those of `bare`, to packed bytes. */
export function joinDots(
  { simd }: KernelMemory,
  words: Int32Array,
  bare: Int32Array,
  wordsAt: number,
  tiles: number,
  side: number,
  packed: Uint8Array,
  to: number,
): void {
  if (simd) {
    const [from, bareFrom] = [words.byteOffset + 4 * wordsAt, bare.byteOffset + 4 * wordsAt];
    simd.joinDots(from, bareFrom, tiles, side, packed.byteOffset + to);
    return;
  }
  for (let i = wordsAt; i < wordsAt + tiles; i++) {
    const word = words[i] & ~bare[i];
    if (side === 16) packed[to++] = word >> 8;
    packed[to++] = word;
  }
}
