import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { AREA_ONE, type SurfaceModel } from "../core/surface-model.js";
import { type LaidFootprint, layFootprint, reachOf } from "./dose-footprint.js";

/** Area of a fraction. */
const AREA_SCALE = AREA_ONE / FRACTION_ONE;

/** A row that is in, before it is decided. */
export interface DoseRow {
  /** [columns] Marked area asked for, as burn fractions are told. */
  readonly fractions: Int16Array;
  /** [columns] Shares of their footprints (in FRACTION_ONE) that its pixels are expected to leave. */
  readonly shares: Int16Array;
  /** [columns] Area asked for less the area expected, in AREA_ONE; known once the rows within reach are in. */
  readonly wanted: Int32Array;
}

/**
 * The dose expected in the end, about the row that is being decided. Rows come in `delayRows` before they are decided, since
 * the rows that a footprint reaches must know what the rows within their own reach expect.
 */
export interface DoseField {
  readonly delayRows: number;
  /** [lines of samples in a ring × stride] In the numbers of the surface model. */
  readonly dose: Int32Array;
  readonly samplesAlong: number;
  readonly stepBits: number;
  /** Marked area by dose step, in `dose`'s memory. */
  readonly areaByDose: Int32Array;
  /** A row comes in. Rows beyond the last may, and count as not there. */
  readonly enter: (fractions: Int16Array, from: number, y: number) => void;
  /** Forget all but the picture's first rows, when row 0 is to be decided. */
  readonly beginAtTop: () => void;
  readonly restart: () => void;
  readonly row: (y: number) => DoseRow;
  /** The footprint of the first pixel of row y, its places those in `dose`; good until the next call. */
  readonly footprint: (y: number) => LaidFootprint;
}

export function createDoseField(
  surface: SurfaceModel,
  columns: number,
  rows: number,
  memory: KernelMemory,
): DoseField {
  const { samplesAlong, samplesAcross, stepBits, expectedShare } = surface;
  const footprints = [surface.evenLines, surface.oddLines];
  const reach = reachOf(footprints, samplesAlong, samplesAcross);
  const laid = footprints.map((footprint) => layFootprint(footprint, memory));
  const margin = reach.columns * samplesAlong;
  const stride = columns * samplesAlong + 2 * margin;
  const rowLength = samplesAcross * stride;
  const delayRows = 2 * reach.rows;
  const ringRows = 4 * reach.rows + 1;
  const dose = memory.int32(ringRows * rowLength);
  const areaByDose = memory.int32(surface.areaByDose.length);
  areaByDose.set(surface.areaByDose);
  const held = Array.from(
    { length: delayRows + 1 },
    (): DoseRow => ({
      fractions: memory.int16(columns),
      shares: memory.int16(columns),
      wanted: memory.int32(columns),
    }),
  );
  /** The first row there is. */
  let top: number | undefined;

  const row = (y: number): DoseRow => held[modulo(y, held.length)];
  const startOf = (y: number): number => modulo(y, ringRows) * rowLength;

  function footprint(y: number): LaidFootprint {
    const taps = laid[y & 1];
    for (let k = 0; k < taps.places.length; k++) {
      const line = taps.across[k];
      const start = startOf(y + Math.floor(line / samplesAcross)) + modulo(line, samplesAcross) * stride;
      taps.places[k] = start + margin + taps.along[k];
    }
    return taps;
  }

  function expect(y: number): void {
    const { doses, places } = footprint(y);
    const { shares } = row(y);
    const { simd } = memory;
    if (simd) {
      simd.expectDoseRow(
        shares.byteOffset,
        columns,
        dose.byteOffset,
        samplesAlong,
        places.byteOffset,
        doses.byteOffset,
        places.length,
      );
      return;
    }
    for (let x = 0; x < columns; x++) {
      if (shares[x] > 0) addShare(dose, x * samplesAlong, places, doses, shares[x]);
    }
  }

  function findWanted(y: number): void {
    const { fractions, wanted } = row(y);
    for (let x = 0; x < columns; x++) wanted[x] = Math.max(0, fractions[x]) * AREA_SCALE;
    const first = y === top ? y - reach.rows : y;
    const last = y === rows - 1 ? y + reach.rows : y;
    for (let from = first; from <= last; from++) takeExpected(from, wanted);
  }

  /** Take a row's expected area off what is wanted; what lies beyond the sides, off the outermost pixels. */
  function takeExpected(y: number, wanted: Int32Array): void {
    for (let line = 0, i = startOf(y); line < samplesAcross; line++) {
      for (let column = -reach.columns; column < columns + reach.columns; column++) {
        let area = 0;
        for (let s = 0; s < samplesAlong; s++, i++) area += areaByDose[dose[i] >> stepBits];
        wanted[Math.min(columns - 1, Math.max(0, column))] -= area;
      }
    }
  }

  return {
    delayRows,
    dose,
    samplesAlong,
    stepBits,
    areaByDose,
    row,
    footprint,
    enter(source, from, y) {
      top ??= y;
      const opening = startOf(y + reach.rows);
      dose.fill(0, opening, opening + rowLength);
      if (y < rows) {
        const { fractions, shares } = row(y);
        for (let x = 0; x < columns; x++) {
          fractions[x] = source[from + x];
          shares[x] = expectedShare[Math.max(0, fractions[x])];
        }
        expect(y);
      }
      const known = y - reach.rows;
      if (known >= top && known < rows) findWanted(known);
    },
    beginAtTop() {
      top = 0;
      dose.fill(0);
      for (let y = 0; y <= Math.min(delayRows, rows - 1); y++) expect(y);
      for (let y = 0; y <= Math.min(reach.rows, rows - 1); y++) findWanted(y);
    },
    restart() {
      top = undefined;
      dose.fill(0);
    },
  };
}

const modulo = (n: number, by: number): number => ((n % by) + by) % by;

/** Each dose of the share is rounded by itself, so that taking it away again leaves nothing. */
function addShare(
  dose: Int32Array,
  first: number,
  places: Int32Array,
  doses: Int32Array,
  share: number,
): void {
  for (let k = 0; k < places.length; k++) {
    dose[(first + places[k]) | 0] += (Math.imul(share, doses[k]) + 8192) >> 14;
  }
}
