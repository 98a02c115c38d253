import { createKernelMemory } from "../core/kernel-memory.js";
import {
  FOUR,
  type FourierPlan,
  forwardLine,
  fourierPlan,
  reversedOrder,
  VALUE_FLOATS,
} from "./fourier-kernels.js";

/** A rectangle of a plane of values. */
export interface Window {
  readonly data: ArrayLike<number>;
  /** Index of its first value. */
  readonly from: number;
  /** Values from one row to the next. */
  readonly stride: number;
}

/** Periodograms of windows of one size. Plain TypeScript is enough: windows are few and small. */
export class PowerSpectrum {
  private readonly along: LineTransform;
  private readonly across: LineTransform;
  private readonly real: Float32Array;
  private readonly imaginary: Float32Array;

  /** @param columns @param rows powers of two from 4 */
  constructor(
    readonly columns: number,
    readonly rows: number,
  ) {
    this.along = new LineTransform(columns);
    this.across = new LineTransform(rows);
    this.real = new Float32Array(columns * rows);
    this.imaginary = new Float32Array(columns * rows);
  }

  /**
   * |F|²/N of the N values less `mean`. For white noise the expected value at every frequency is its variance.
   *
   * @returns [rows × columns] with x cycles per `columns` and y per `rows` at y · columns + x. The upper half
   * of each holds negative frequencies
   */
  of({ data, from, stride }: Window, mean: number): Float64Array {
    const { columns, rows, along, across, real, imaginary } = this;
    for (let y = 0; y < rows; y += FOUR) {
      along.line.fill(0);
      for (let x = 0; x < columns; x++) {
        for (let k = 0; k < FOUR; k++) {
          along.line[VALUE_FLOATS * x + k] = data[from + (y + k) * stride + x] - mean;
        }
      }
      along.transform((x, k, at) => {
        real[(y + k) * columns + x] = along.line[at];
        imaginary[(y + k) * columns + x] = along.line[at + FOUR];
      });
    }
    const power = new Float64Array(columns * rows);
    for (let x = 0; x < columns; x += FOUR) {
      for (let y = 0; y < rows; y++) {
        for (let k = 0; k < FOUR; k++) {
          across.line[VALUE_FLOATS * y + k] = real[y * columns + x + k];
          across.line[VALUE_FLOATS * y + FOUR + k] = imaginary[y * columns + x + k];
        }
      }
      across.transform((y, k, at) => {
        const { line } = across;
        power[y * columns + x + k] = (line[at] ** 2 + line[at + FOUR] ** 2) / (columns * rows);
      });
    }
    return power;
  }
}

/** Four transforms of one length at a time. */
class LineTransform {
  readonly line: Float32Array;
  private readonly fourier: FourierPlan;
  private readonly order: Int32Array;

  constructor(private readonly length: number) {
    this.line = new Float32Array(VALUE_FLOATS * length);
    this.fourier = fourierPlan(createKernelMemory("plain"), length);
    this.order = reversedOrder(length);
  }

  /** @param visit called with each frequency of each sequence and the index of its real part in `line`; the imaginary part is at + 4 */
  transform(visit: (frequency: number, which: number, at: number) => void): void {
    forwardLine(this.fourier, this.line);
    for (let place = 0; place < this.length; place++) {
      for (let k = 0; k < FOUR; k++) visit(this.order[place], k, VALUE_FLOATS * place + k);
    }
  }
}
