import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";
import { modulo } from "../core/modulo.js";
import { AREA_ONE, type SurfaceModel } from "../core/surface-model.js";
import { type DoseFieldState, type DoseRow, expectDoseRow } from "./dose-feedback-kernels.js";
import { type LaidFootprint, layFootprint, reachOf } from "./dose-footprint.js";

/** Area of a fraction. */
const AREA_SCALE = AREA_ONE / FRACTION_ONE;

/**
 * The expected final dose around the current row. A row enters `delayRows` before it is decided: each row that its footprint
 * reaches needs the expected dose of all rows within its own reach.
 */
export class DoseField implements DoseFieldState {
  readonly simd: SimdKernels | undefined;
  readonly delayRows: number;
  readonly samplesAlong: number;
  readonly stepBits: number;
  readonly lostPx: number;
  readonly dose: Int32Array;
  readonly areaByDose: Int32Array;
  private readonly reach: ReturnType<typeof reachOf>;
  private readonly laid: readonly LaidFootprint[];
  /** Samples of a line, with its margins. */
  private readonly stride: number;
  /** Samples beside a line, on either side. */
  private readonly margin: number;
  private readonly ringRows: number;
  private readonly rowsIn: readonly DoseRow[];
  /** The first row that has entered. */
  private top: number | undefined;

  constructor(
    private readonly surface: SurfaceModel,
    readonly columns: number,
    private readonly rows: number,
    memory: KernelMemory,
  ) {
    const { samplesAlong, samplesAcross } = surface;
    const footprints = [surface.evenLines, surface.oddLines];
    this.simd = memory.simd;
    this.samplesAlong = samplesAlong;
    this.stepBits = surface.stepBits;
    this.lostPx = surface.lostPx;
    this.reach = reachOf(footprints, samplesAlong, samplesAcross);
    this.laid = footprints.map((footprint) => layFootprint(footprint, memory));
    this.margin = this.reach.columns * samplesAlong;
    this.stride = columns * samplesAlong + 2 * this.margin;
    this.delayRows = 2 * this.reach.rows;
    this.ringRows = 4 * this.reach.rows + 1;
    this.dose = memory.int32(this.ringRows * samplesAcross * this.stride);
    this.areaByDose = memory.int32(surface.areaByDose.length);
    this.areaByDose.set(surface.areaByDose);
    this.rowsIn = Array.from({ length: this.delayRows + 1 }, () => ({
      fractions: memory.int16(columns),
      shares: memory.int16(columns),
      wanted: memory.int32(columns),
    }));
  }

  row(y: number): DoseRow {
    return this.rowsIn[modulo(y, this.rowsIn.length)];
  }

  footprint(y: number): LaidFootprint {
    const { samplesAcross } = this.surface;
    const { places, along, across } = this.laid[y & 1];
    for (let k = 0; k < places.length; k++) {
      const rowStart = this.startOf(y + Math.floor(across[k] / samplesAcross));
      places[k] = rowStart + modulo(across[k], samplesAcross) * this.stride + this.margin + along[k];
    }
    return this.laid[y & 1];
  }

  /** Enters row y. Rows after the last row of the picture have no effect. */
  enter(source: Int16Array, from: number, y: number): void {
    const { dose, columns, rows, reach } = this;
    this.top ??= y;
    const opening = this.startOf(y + reach.rows);
    dose.fill(0, opening, opening + this.surface.samplesAcross * this.stride);
    if (y < rows) {
      const { expectedShare } = this.surface;
      const { fractions, shares } = this.row(y);
      for (let x = 0; x < columns; x++) {
        fractions[x] = source[from + x];
        shares[x] = expectedShare[Math.max(0, fractions[x])];
      }
      expectDoseRow(this, y);
    }
    const known = y - reach.rows;
    if (known >= this.top && known < rows) this.findWanted(known);
  }

  /** Removes the lead-in. Called before row 0 is decided. */
  beginAtTop(): void {
    this.top = 0;
    this.dose.fill(0);
    for (let y = 0; y <= Math.min(this.delayRows, this.rows - 1); y++) expectDoseRow(this, y);
    for (let y = 0; y <= Math.min(this.reach.rows, this.rows - 1); y++) this.findWanted(y);
  }

  restart(): void {
    this.top = undefined;
    this.dose.fill(0);
  }

  /** Where row y starts in `dose`. */
  private startOf(y: number): number {
    return modulo(y, this.ringRows) * this.surface.samplesAcross * this.stride;
  }

  private findWanted(y: number): void {
    const { fractions, wanted } = this.row(y);
    for (let x = 0; x < this.columns; x++) wanted[x] = Math.max(0, fractions[x]) * AREA_SCALE;
    const first = y === this.top ? y - this.reach.rows : y;
    const last = y === this.rows - 1 ? y + this.reach.rows : y;
    for (let from = first; from <= last; from++) this.subtractExpected(from, wanted);
  }

  /** Subtracts the expected area of a row from the wanted area. The outermost pixels also pay for the area outside. */
  private subtractExpected(y: number, wanted: Int32Array): void {
    const { columns, samplesAlong, stepBits, dose, areaByDose } = this;
    const beside = this.reach.columns;
    for (let line = 0, i = this.startOf(y); line < this.surface.samplesAcross; line++) {
      for (let column = -beside; column < columns + beside; column++) {
        let area = 0;
        for (let s = 0; s < samplesAlong; s++, i++) area += areaByDose[dose[i] >> stepBits];
        wanted[Math.min(columns - 1, Math.max(0, column))] -= area;
      }
    }
  }
}
