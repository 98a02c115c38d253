import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";
import type { DotCell } from "./dot-plan.js";

/** Spare numbers on either side of a phase: for error that leaves the picture, and for whole vectors. */
const SPARE = 4;

/** A cell of the class matrix in the layout of the loops. */
export interface LaidCell extends DotCell {
  /** [later] Weights in 16384ths. The last one is not used. */
  readonly weights: Int32Array;
  /** Positions of the later neighbours: rows down, phase, and tiles to the right. */
  readonly neighbours: readonly { readonly dy: number; readonly phase: number; readonly tile: number }[];
}

/** @param side of the class matrix */
export function layCell(cell: DotCell, side: number, memory: KernelMemory): LaidCell {
  const weights = memory.int32(8);
  weights.set(cell.later.map(({ weight }) => weight));
  const neighbours = cell.later.map(({ dx, dy }) => {
    const column = cell.x + dx + side;
    return { dy, phase: column % side, tile: Math.floor(column / side) - 1 };
  });
  return { ...cell, weights, neighbours };
}

/**
 * Ring buffer of the current rows. Each row is split by column of the class matrix ("phases"), so pixels of one class are
 * neighbours.
 */
export class DotRows {
  readonly simd: SimdKernels | undefined;
  readonly tiles: number;
  /** Numbers from one phase to the next. */
  readonly phaseStride: number;
  /** [ringRows × side × phaseStride] Fractions plus the error received so far. */
  readonly wanted: Int32Array;
  /** [ringRows × wordStride] One word of `side` bits for each tile of a row, the leftmost pixel in the highest bit. */
  readonly burned: Int32Array;
  readonly bare: Int32Array;
  /** [8] Indices in `wanted` of the later neighbours of the first pixel of a class. */
  readonly targets: Int32Array;
  private readonly wordStride: number;

  /** @param side of the class matrix; @param ringRows rows to hold */
  constructor(
    readonly columns: number,
    readonly side: number,
    private readonly ringRows: number,
    memory: KernelMemory,
  ) {
    this.simd = memory.simd;
    this.tiles = Math.ceil(columns / side);
    this.wordStride = 4 * Math.ceil(this.tiles / 4);
    this.phaseStride = SPARE + this.wordStride + SPARE;
    this.wanted = memory.int32(ringRows * side * this.phaseStride);
    this.burned = memory.int32(ringRows * this.wordStride);
    this.bare = memory.int32(ringRows * this.wordStride);
    this.targets = memory.int32(8);
  }

  /** Index in `wanted` of the first tile of a phase of row y. */
  phaseAt(y: number, phase: number): number {
    const ringRow = (y + this.ringRows) % this.ringRows;
    return (ringRow * this.side + phase) * this.phaseStride + SPARE;
  }

  /** Index in `burned` and `bare` of the first tile of row y. */
  wordsAt(y: number): number {
    return ((y + this.ringRows) % this.ringRows) * this.wordStride;
  }
}

/** Splits a row of fractions by column of the class matrix, and marks the pixels that must stay bare. */
export function splitDots(dots: DotRows, fractions: Int16Array, from: number, y: number): void {
  const { simd, columns, side, wanted, phaseStride, burned, bare } = dots;
  let wordsAt = dots.wordsAt(y);
  let wantedAt = dots.phaseAt(y, 0);
  burned.fill(0, wordsAt, dots.wordsAt(y) + dots.tiles);
  if (simd) {
    const [source, to] = [fractions.byteOffset + 2 * from, wanted.byteOffset + 4 * wantedAt];
    simd.splitDots(source, columns, side, to, 4 * phaseStride, bare.byteOffset + 4 * wordsAt);
    return;
  }
  for (let x = 0; x < columns; ) {
    let word = 0;
    for (let phase = 0; phase < side && x < columns; phase++, x++) {
      const fraction = fractions[from + x];
      wanted[wantedAt + phase * phaseStride] = Math.max(fraction, 0);
      if (fraction < 0) word |= 1 << (side - 1 - phase);
    }
    bare[wordsAt++] = word;
    wantedAt++;
  }
}

/**
 * Decides the pixels of one class in row y: sets the bits of those that burn, and passes the errors to the later neighbours. The
 * last neighbour takes the rest.
 */
export function settleDots(dots: DotRows, { x, neighbours, weights }: LaidCell, y: number): void {
  const { simd, columns, side, wanted, burned, targets } = dots;
  for (let k = 0; k < neighbours.length; k++) {
    const { dy, phase, tile } = neighbours[k];
    targets[k] = dots.phaseAt(y + dy, phase) + tile;
  }
  const pixelsAt = dots.phaseAt(y, x);
  const count = Math.ceil((columns - x) / side);
  const wordsAt = dots.wordsAt(y);
  const bit = 1 << (side - 1 - x);
  if (simd) {
    const words = burned.byteOffset + 4 * wordsAt;
    const [to, shares] = [targets.byteOffset, weights.byteOffset];
    simd.settleDots(wanted.byteOffset, pixelsAt, count, words, bit, to, shares, neighbours.length);
    return;
  }
  const last = neighbours.length - 1;
  for (let i = 0; i < count; i++) {
    const value = wanted[pixelsAt + i];
    const burns = (8191 - value) >> 31;
    burned[wordsAt + i] |= burns & bit;
    const error = value - (burns & 16384);
    let rest = error;
    for (let k = 0; k < last; k++) {
      const share = (error * weights[k] + 8192) >> 14;
      wanted[targets[k] + i] += share;
      rest -= share;
    }
    if (last >= 0) wanted[targets[last] + i] += rest;
  }
}

/** Writes the bits of row y, without the pixels that must stay bare, to packed bytes from `to` on. */
export function joinDots(dots: DotRows, y: number, packed: Uint8Array, to: number): void {
  const { simd, tiles, side, burned, bare } = dots;
  const wordsAt = dots.wordsAt(y);
  if (simd) {
    const [from, bareFrom] = [burned.byteOffset + 4 * wordsAt, bare.byteOffset + 4 * wordsAt];
    simd.joinDots(from, bareFrom, tiles, side, packed.byteOffset + to);
    return;
  }
  for (let i = wordsAt; i < wordsAt + tiles; i++) {
    const word = burned[i] & ~bare[i];
    if (side === 16) packed[to++] = word >> 8;
    packed[to++] = word;
  }
}
