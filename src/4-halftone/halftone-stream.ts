import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { bytesPerRow } from "../core/packed-bits.js";
import { levelsMisfit } from "./levels.js";
import type { BandHalftone, HalftoneMethod, HalftoneSettings } from "./method.js";

/**
 * @param packed rows y, y + 1, … of `bytesPerRow(columns, levels)` bytes each; valid until the call returns
 * @param count 1 or more
 */
export type EmitRows = (packed: Uint8Array, y: number, count: number) => void;

/** Size of the whole picture, and the largest number of rows per push. */
export interface StreamSize {
  readonly columns: number;
  readonly rows: number;
  /** Default 64. */
  readonly bandRows?: number;
}

/** At 8000 columns these fractions take one megabyte, about the size of a second-level cache. */
const BAND_ROWS = 64;

/**
 * Halftones a picture band by band. It adds the rows that a method needs before the first row (its lead-in) and after the last
 * (its delay).
 */
export class HalftoneStream {
  /** [bandRows × columns] The caller writes the next burn fractions here. `push` may overwrite them. */
  readonly fractions: Int16Array;
  readonly bandRows: number;
  private readonly columns: number;
  private readonly rows: number;
  private readonly band: BandHalftone;
  private readonly stride: number;
  /** First rows of the picture, held until they are enough for the lead-in. */
  private readonly openingRows: number;
  private readonly opening: Int16Array;
  private seenRows = 0;

  /**
   * Throws `OPTION_METHOD_LEVELS`.
   *
   * @param size of the whole picture
   * @param emit called from `push`, once for each row, in order
   */
  constructor(
    private readonly method: HalftoneMethod,
    size: StreamSize,
    settings: HalftoneSettings,
    private readonly emit: EmitRows,
    memory: KernelMemory = createKernelMemory(),
  ) {
    const { columns, rows, bandRows = BAND_ROWS } = size;
    const misfit = levelsMisfit(method, settings.levels);
    if (misfit) throw misfit;
    this.columns = columns;
    this.rows = rows;
    this.bandRows = bandRows;
    this.band = method.start({ columns, rows, bandRows, memory }, settings);
    this.fractions = this.band.fractions;
    this.stride = bytesPerRow(columns, settings.levels);
    this.openingRows = Math.min(method.leadInRows, rows);
    this.opening = new Int16Array(this.openingRows * columns);
  }

  /** Takes the first `count` rows of `fractions` as the next rows of the picture. */
  push(count: number): void {
    const { fractions, columns, opening, openingRows } = this;
    const forOpening = Math.max(0, Math.min(count, openingRows - this.seenRows));
    const others = count - forOpening;
    if (forOpening > 0) {
      opening.set(fractions.subarray(0, forOpening * columns), this.seenRows * columns);
      this.seenRows += forOpening;
      if (this.seenRows < openingRows) return;
      const kept = fractions.slice(forOpening * columns, count * columns);
      this.runLeadIn();
      this.runOpening();
      fractions.set(kept);
    }
    if (others > 0) this.run(this.seenRows, others);
    this.seenRows += others;
    if (this.seenRows === this.rows) this.drain();
  }

  /** Starts again at the first row, like a new stream. */
  restart(): void {
    this.seenRows = 0;
    this.band.restart();
  }

  private run(y: number, count: number): void {
    const { delayRows, packed } = this.band;
    this.band.run(y, count);
    const from = Math.max(0, y - delayRows);
    const end = Math.min(this.rows, y - delayRows + count);
    if (from < end) this.emit(packed.subarray((from + delayRows - y) * this.stride), from, end - from);
  }

  /** Runs the first rows of the picture, upside down. */
  private runLeadIn(): void {
    const { bandRows, columns, fractions, opening, openingRows } = this;
    for (let y = -this.method.leadInRows; y < 0; y += bandRows) {
      const count = Math.min(bandRows, -y);
      for (let row = 0; row < count; row++) {
        const mirrored = Math.min(openingRows - 1, -1 - (y + row)) * columns;
        fractions.set(opening.subarray(mirrored, mirrored + columns), row * columns);
      }
      this.band.run(y, count);
    }
  }

  private runOpening(): void {
    const { bandRows, columns, openingRows } = this;
    for (let y = 0; y < openingRows; y += bandRows) {
      const count = Math.min(bandRows, openingRows - y);
      this.fractions.set(this.opening.subarray(y * columns, (y + count) * columns));
      this.run(y, count);
    }
  }

  /** Emits the delayed rows. */
  private drain(): void {
    const end = this.rows + this.band.delayRows;
    for (let y = this.rows; y < end; y += this.bandRows) this.run(y, Math.min(this.bandRows, end - y));
  }
}
