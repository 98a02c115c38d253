import type { KernelMemory } from "../core/kernel-memory.js";
import { cyclesPerDegreeFromPerMm, eyeDecayCyclesPerDegree } from "../core/physics/modulation.js";
import type { Pitch } from "../core/plane.js";
import { forwardLine, fourierTwiddles, inverseLine, reversedOrder, VALUE_FLOATS } from "./fourier.js";

export interface Viewing {
  readonly distanceMm: number;
  /** Luminance that the eye is adapted to, cd/m². */
  readonly luminanceCdPerM2: number;
}

/** Rows that enter and leave together. */
export const BAND_ROWS = 4;

const LEAST_MODULATION = 1e-12;

/** Lines of a power of two apart would fall on the same places of the cache. */
const LINE_GAP_FLOATS = 16;

/**
 * What the eye blurs: multiplies the spectrum of a square tile by exp(−f/k) (Näsänen 1984, see core/modulation). The tile
 * closes on itself, so its caller pads it.
 *
 * The filter is symmetric and real, so one complex transform filters two pictures at once: one in the real parts, one in
 * the imaginary parts. Bands of four rows enter, the whole is filtered, and what is wanted leaves by bands again. Single
 * precision: within 1e-6 of the largest value.
 */
export class EyeFilter {
  /** The band that enters or leaves, of either picture: [4 × sidePx] */
  readonly first: Float32Array;
  readonly second: Float32Array;
  private readonly twiddles: Float32Array;
  /** Four rows under transform. */
  private readonly line: Float32Array;
  /** Lines of four columns of the spectrum along; columns stand in reversed order. */
  private readonly columns: Float32Array;
  /** [sidePx/4 lines × sidePx × 4] in the order of the spectrum, divided by the number of pixels. */
  private readonly modulation: Float32Array;
  private readonly columnFloats: number;

  /** @param sidePx side of the tile, a power of two from 4 */
  constructor(
    private readonly memory: KernelMemory,
    readonly sidePx: number,
    pitch: Pitch,
    viewing: Viewing,
  ) {
    this.first = memory.float32(BAND_ROWS * sidePx);
    this.second = memory.float32(BAND_ROWS * sidePx);
    const twiddles = fourierTwiddles(sidePx);
    this.twiddles = memory.float32(twiddles.length);
    this.twiddles.set(twiddles);
    this.line = memory.float32(VALUE_FLOATS * sidePx);
    this.columnFloats = VALUE_FLOATS * sidePx + LINE_GAP_FLOATS;
    this.columns = memory.float32((sidePx / BAND_ROWS) * this.columnFloats);
    this.modulation = memory.float32(sidePx * sidePx);
    this.fillModulation(pitch, viewing);
  }

  /** Rows y..y+3 enter from `first` and `second`. */
  enter(y: number): void {
    const { line, columns, columnFloats, sidePx, first, second, twiddles } = this;
    const { simd } = this.memory;
    if (simd) {
      simd.lineFromRows(first.byteOffset, second.byteOffset, sidePx, line.byteOffset);
      simd.forwardLine(line.byteOffset, sidePx, twiddles.byteOffset);
      const to = columns.byteOffset + 4 * VALUE_FLOATS * y;
      simd.spreadLine(line.byteOffset, sidePx, to, 4 * columnFloats);
      return;
    }
    for (let x = 0; x < sidePx; x++) {
      for (let row = 0; row < BAND_ROWS; row++) {
        line[VALUE_FLOATS * x + row] = first[row * sidePx + x];
        line[VALUE_FLOATS * x + 4 + row] = second[row * sidePx + x];
      }
    }
    forwardLine(line, sidePx, twiddles);
    for (let x = 0; x < sidePx; x++) {
      for (let row = 0; row < BAND_ROWS; row++) {
        const at = (x >> 2) * columnFloats + VALUE_FLOATS * (y + row) + (x & 3);
        columns[at] = line[VALUE_FLOATS * x + row];
        columns[at + 4] = line[VALUE_FLOATS * x + 4 + row];
      }
    }
  }

  /** Once all rows have entered. */
  filter(): void {
    const { columns, columnFloats, modulation, sidePx, twiddles } = this;
    const { simd } = this.memory;
    for (let group = 0; group < sidePx / BAND_ROWS; group++) {
      const from = group * columnFloats;
      const factorsFrom = group * BAND_ROWS * sidePx;
      if (simd) {
        const at = columns.byteOffset + 4 * from;
        simd.forwardLine(at, sidePx, twiddles.byteOffset);
        simd.multiplyLine(at, modulation.byteOffset + 4 * factorsFrom, sidePx);
        simd.inverseLine(at, sidePx, twiddles.byteOffset);
        continue;
      }
      const line = columns.subarray(from, from + VALUE_FLOATS * sidePx);
      forwardLine(line, sidePx, twiddles);
      for (let i = 0; i < line.length; i++) line[i] *= modulation[factorsFrom + (i >> 3) * 4 + (i & 3)];
      inverseLine(line, sidePx, twiddles);
    }
  }

  /** Rows y..y+3, filtered, leave to `first` and `second`; in any order, as often as wanted. */
  leave(y: number): void {
    const { line, columns, columnFloats, sidePx, first, second, twiddles } = this;
    const { simd } = this.memory;
    if (simd) {
      const from = columns.byteOffset + 4 * VALUE_FLOATS * y;
      simd.collectLine(from, 4 * columnFloats, sidePx, line.byteOffset);
      simd.inverseLine(line.byteOffset, sidePx, twiddles.byteOffset);
      simd.rowsFromLine(line.byteOffset, sidePx, first.byteOffset, second.byteOffset);
      return;
    }
    for (let x = 0; x < sidePx; x++) {
      for (let row = 0; row < BAND_ROWS; row++) {
        const at = (x >> 2) * columnFloats + VALUE_FLOATS * (y + row) + (x & 3);
        line[VALUE_FLOATS * x + row] = columns[at];
        line[VALUE_FLOATS * x + 4 + row] = columns[at + 4];
      }
    }
    inverseLine(line, sidePx, twiddles);
    for (let x = 0; x < sidePx; x++) {
      for (let row = 0; row < BAND_ROWS; row++) {
        first[row * sidePx + x] = line[VALUE_FLOATS * x + row];
        second[row * sidePx + x] = line[VALUE_FLOATS * x + 4 + row];
      }
    }
  }

  private fillModulation(pitch: Pitch, viewing: Viewing): void {
    const { sidePx, modulation } = this;
    const half = sidePx / 2;
    const stride = half + 1;
    // The same at f and −f, so worked out for a quarter of the spectrum.
    const quarter = new Float32Array(stride * stride);
    const decay = eyeDecayCyclesPerDegree(viewing.luminanceCdPerM2);
    const decays = (cycles: number, pitchMm: number): number =>
      cyclesPerDegreeFromPerMm(cycles / (sidePx * pitchMm), viewing.distanceMm) / decay;
    for (let y = 0; y <= half; y++) {
      const across = decays(y, pitch.acrossMm);
      for (let x = 0; x <= half; x++) {
        const along = decays(x, pitch.alongMm);
        const left = Math.exp(-Math.sqrt(along * along + across * across));
        // Less than rounding leaves, and products too small for single precision are slow.
        quarter[x * stride + y] = left < LEAST_MODULATION ? 0 : left / (sidePx * sidePx);
      }
    }
    const folded = reversedOrder(sidePx).map((frequency) => Math.min(frequency, sidePx - frequency));
    for (let group = 0, at = 0; group < sidePx; group += BAND_ROWS) {
      for (let y = 0; y < sidePx; y++) {
        for (let x = group; x < group + BAND_ROWS; x++) {
          modulation[at++] = quarter[folded[x] * stride + folded[y]];
        }
      }
    }
  }
}
