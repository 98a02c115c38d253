import type { KernelMemory } from "../core/kernel-memory.js";
import { cyclesPerDegreeFromPerMm, eyeDecayCyclesPerDegree } from "../core/physics/modulation.js";
import type { Pitch } from "../core/plane.js";
import {
  type ColumnLines,
  collectLine,
  FOUR,
  type FourierPlan,
  forwardLine,
  fourierPlan,
  inverseLine,
  lineFromRows,
  multiplyLine,
  reversedOrder,
  rowsFromLine,
  spreadLine,
  VALUE_FLOATS,
} from "./fourier-kernels.js";

export interface Viewing {
  readonly distanceMm: number;
  /** Luminance that the eye is adapted to, cd/m². */
  readonly luminanceCdPerM2: number;
}

/** A grid of pixels and its viewing conditions. */
export interface SeenGrid {
  readonly memory: KernelMemory;
  readonly pitch: Pitch;
  readonly viewing: Viewing;
}

/** Rows that enter and leave together. */
export const BAND_ROWS = FOUR;

const MIN_MODULATION = 1e-12;

/** Gap between lines. At a distance of a power of two they would share the same cache lines. */
const LINE_GAP_FLOATS = 16;

/**
 * The blur of the eye: multiplies the spectrum of a square tile by exp(−f/k) (Näsänen 1984, see core/physics/modulation). The
 * tile is periodic, so the caller pads it.
 *
 * The filter is symmetric and real, so one complex transform filters two pictures at once: one in the real parts, one in
 * the imaginary parts. Bands of four rows enter, the tile is filtered, and bands of four rows leave. Single precision: within
 * 1e-6 of the largest value.
 */
export class EyeFilter {
  /** The band that enters or leaves, of either picture: [4 × sidePx] */
  readonly first: Float32Array;
  readonly second: Float32Array;
  private readonly fourier: FourierPlan;
  /** Buffer of four rows for the transform. */
  private readonly line: Float32Array;
  /** The spectrum along the rows, its columns in digit-reversed order. */
  private readonly columns: ColumnLines;
  private readonly columnLines: readonly Float32Array[];
  /** [sidePx/4 lines] of [sidePx × 4] in the order of the spectrum, divided by the number of pixels. */
  private readonly modulation: readonly Float32Array[];

  /** @param sidePx side of the tile, a power of two from 4 */
  constructor(
    { memory, pitch, viewing }: SeenGrid,
    readonly sidePx: number,
  ) {
    const groups = sidePx / BAND_ROWS;
    this.first = memory.float32(BAND_ROWS * sidePx);
    this.second = memory.float32(BAND_ROWS * sidePx);
    this.fourier = fourierPlan(memory, sidePx);
    const lineFloats = VALUE_FLOATS * sidePx;
    this.line = memory.float32(lineFloats);
    this.columns = {
      values: memory.float32(groups * (lineFloats + LINE_GAP_FLOATS)),
      lineFloats: lineFloats + LINE_GAP_FLOATS,
    };
    this.columnLines = Array.from({ length: groups }, (_, group) => {
      const from = group * this.columns.lineFloats;
      return this.columns.values.subarray(from, from + lineFloats);
    });
    const modulation = memory.float32(sidePx * sidePx);
    fillModulation(modulation, sidePx, pitch, viewing);
    this.modulation = this.columnLines.map((_, group) =>
      modulation.subarray(group * BAND_ROWS * sidePx, (group + 1) * BAND_ROWS * sidePx),
    );
  }

  /** Rows y..y+3 enter from `first` and `second`. */
  enter(y: number): void {
    const { fourier, line } = this;
    lineFromRows(fourier, this.first, this.second, line);
    forwardLine(fourier, line);
    spreadLine(fourier, line, this.columns, y);
  }

  /** Once all rows have entered. */
  filter(): void {
    const { fourier, modulation } = this;
    this.columnLines.forEach((line, group) => {
      forwardLine(fourier, line);
      multiplyLine(fourier, line, modulation[group]);
      inverseLine(fourier, line);
    });
  }

  /** Writes the filtered rows y..y+3 to `first` and `second`. Any order and repeats are allowed. */
  leave(y: number): void {
    const { fourier, line } = this;
    collectLine(fourier, this.columns, y, line);
    inverseLine(fourier, line);
    rowsFromLine(fourier, line, this.first, this.second);
  }
}

function fillModulation(modulation: Float32Array, sidePx: number, pitch: Pitch, viewing: Viewing): void {
  const half = sidePx / 2;
  const stride = half + 1;
  // Symmetric in f, so a quarter of the spectrum is enough.
  const quarter = new Float32Array(stride * stride);
  const decay = eyeDecayCyclesPerDegree(viewing.luminanceCdPerM2);
  const decays = (cycles: number, pitchMm: number): number =>
    cyclesPerDegreeFromPerMm(cycles / (sidePx * pitchMm), viewing.distanceMm) / decay;
  for (let y = 0; y <= half; y++) {
    const across = decays(y, pitch.acrossMm);
    for (let x = 0; x <= half; x++) {
      const along = decays(x, pitch.alongMm);
      const left = Math.exp(-Math.sqrt(along * along + across * across));
      // Below the rounding error. Products too small for single precision would be slow.
      quarter[x * stride + y] = left < MIN_MODULATION ? 0 : left / (sidePx * sidePx);
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
