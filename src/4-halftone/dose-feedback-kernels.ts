import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { SimdKernels } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import type { BandRow } from "./band.js";
import type { LaidFootprint } from "./dose-footprint.js";
import { randomBits, randomState } from "./random-bits.js";

/** Limit of an error, in marginal areas. Otherwise errors that no pixel nearby can correct would pile up. */
const MAX_ERROR = 4;

/** A row that has entered and is not decided yet. */
export interface DoseRow {
  /** [columns] Wanted marked area, in the units of burn fractions. */
  readonly fractions: Int16Array;
  /** [columns] Expected share of the footprint of each pixel, in FRACTION_ONE. */
  readonly shares: Int16Array;
  /** [columns] Wanted area less expected area, in AREA_ONE. Known after all rows within reach have entered. */
  readonly wanted: Int32Array;
}

/** The expected final dose around the current row. */
export interface DoseFieldState {
  readonly simd: SimdKernels | undefined;
  readonly columns: number;
  readonly samplesAlong: number;
  /** [lines of samples in a ring buffer × stride] In the units of the surface model. */
  readonly dose: Int32Array;
  /** Marked area by dose, in steps of 2^stepBits. */
  readonly areaByDose: Int32Array;
  readonly stepBits: number;
  /** Pixels at the start of a burst that add no dose. */
  readonly lostPx: number;
  readonly row: (y: number) => DoseRow;
  /** The footprint of the first pixel of row y, with its places in `dose`. Valid until the next call. */
  readonly footprint: (y: number) => LaidFootprint;
}

/** A picture's decisions between two rows. */
export interface DecisionState {
  /** Threshold noise in 1024ths of the marginal area. */
  readonly noise: number;
  /** Error for the next row in AREA_ONE, column 0 at 1. */
  readonly received: Int32Array;
  /** [columns] Buffer of the vector form. */
  readonly masks: Int16Array;
  /** [3] Marked area over a footprint: expected, without its pixel, with its pixel. */
  readonly areas: Int32Array;
}

/** Adds the expected dose of row y to the field. */
export function expectDoseRow(field: DoseFieldState, y: number): void {
  const { simd, columns, dose, samplesAlong } = field;
  const { places, doses } = field.footprint(y);
  const { shares } = field.row(y);
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
    const first = x * samplesAlong;
    const share = shares[x];
    if (share <= 0) continue;
    // Each dose is rounded alone, so subtracting it later leaves exactly 0.
    for (let k = 0; k < places.length; k++) {
      dose[(first + places[k]) | 0] += (Math.imul(share, doses[k]) + 8192) >> 14;
    }
  }
}

/** Decides the pixels of a row in turn. @param random state of the random numbers before the row */
export function decideDoseRow(
  field: DoseFieldState,
  state: DecisionState,
  row: BandRow,
  random: number,
): void {
  const { columns } = field;
  const { received } = state;
  if (field.simd) decideVector(field.simd, field, state, row, random);
  else decideRow(field, state, row, random);
  // Error that would leave at the start of the row goes below its first pixel.
  const first = row.backward ? columns : 1;
  const outside = row.backward ? columns + 1 : 0;
  received[first] += received[outside];
  received[outside] = 0;
}

function decideVector(
  simd: SimdKernels,
  field: DoseFieldState,
  state: DecisionState,
  row: BandRow,
  random: number,
): void {
  const { fractions, shares, wanted } = field.row(row.y);
  const { places, doses, begins } = field.footprint(row.y);
  simd.decideDoseRow(
    fractions.byteOffset,
    shares.byteOffset,
    wanted.byteOffset,
    state.received.byteOffset + 4,
    field.columns,
    row.backward ? 1 : 0,
    random,
    state.noise,
    MAX_ERROR,
    field.dose.byteOffset,
    field.samplesAlong,
    places.byteOffset,
    doses.byteOffset,
    begins.byteOffset,
    field.lostPx,
    places.length,
    field.areaByDose.byteOffset,
    field.stepBits,
    row.packed.byteOffset + row.to,
    state.masks.byteOffset,
  );
}

function decideRow(field: DoseFieldState, state: DecisionState, row: BandRow, random: number): void {
  const { columns, samplesAlong } = field;
  const { noise, received, areas } = state;
  const { packed, to, backward } = row;
  const { fractions, shares, wanted } = field.row(row.y);
  const footprint = field.footprint(row.y);
  packed.fill(0, to, to + bytesPerPackedRow(columns));
  const step = backward ? -1 : 1;
  let x = backward ? columns - 1 : 0;
  let ahead = 0;
  let below = 0;
  /** Pixels of the burst so far. */
  let run = 0;
  for (let n = 1; n <= columns; n++, x += step) {
    const fraction = fractions[x];
    let error = wanted[x] + received[x + 1] + ahead;
    let burned = fraction === FRACTION_ONE;
    if (fraction <= 0 || burned) {
      // This pixel has no choice. Half of its error would be lost on the way to a pixel that has one.
      error >>= 1;
    } else {
      weigh(field, footprint, x * samplesAlong, shares[x], areas);
      const expected = areas[0];
      const bare = areas[1] - expected;
      const marked = areas[2] - expected;
      const marginal = marked - bare;
      const moved = (noise * ((randomBits(randomState(random, n)) >>> 19) - 4096)) >> 13;
      const threshold = ((bare + marked) >> 1) + (((marginal >> 8) * moved) >> 2);
      burned = error >= threshold;
      error -= burned ? burn(field, footprint, x * samplesAlong, run, areas) - expected : bare;
      error = Math.min(MAX_ERROR * marginal, Math.max(-MAX_ERROR * marginal, error));
    }
    if (burned) packed[to + (x >> 3)] |= 128 >> (x & 7);
    run = burned ? run + 1 : 0;
    ahead = error >> 1;
    const behind = error >> 2;
    received[x + 1 - step] = below + behind;
    below = error - ahead - behind;
  }
  // Error that would leave at the end of the row goes below its last pixel.
  received[x + 1 - step] = below + ahead;
}

/** Subtracts the expected dose of a pixel from the field, and sums the marked area over its footprint. */
function weigh(
  { dose, areaByDose, stepBits }: DoseFieldState,
  { places, doses }: LaidFootprint,
  first: number,
  share: number,
  areas: Int32Array,
): void {
  let expected = 0;
  let without = 0;
  let withIt = 0;
  for (let k = 0; k < places.length; k++) {
    const sample = (first + places[k]) | 0;
    const own = doses[k];
    const known = dose[sample];
    const rest = (known - ((Math.imul(share, own) + 8192) >> 14)) | 0;
    dose[sample] = rest;
    expected = (expected + areaByDose[known >> stepBits]) | 0;
    without = (without + areaByDose[rest >> stepBits]) | 0;
    withIt = (withIt + areaByDose[(rest + own) >> stepBits]) | 0;
  }
  areas[0] = expected;
  areas[1] = without;
  areas[2] = withIt;
}

/**
 * Adds the real dose of a pixel that burns. All pixels are decided as if they went on with a burst. What a pixel at the start of a
 * burst adds less stays in the error, for the next pixels: so bursts grow long enough to leave their dose.
 *
 * @param run pixels of the burst before this one
 * @returns the marked area over the footprint
 */
function burn(
  { dose, areaByDose, stepBits, lostPx }: DoseFieldState,
  { places, doses, begins }: LaidFootprint,
  first: number,
  run: number,
  areas: Int32Array,
): number {
  if (run < lostPx) return areas[1];
  if (run > lostPx || begins === doses) {
    for (let k = 0; k < places.length; k++) dose[(first + places[k]) | 0] += doses[k];
    return areas[2];
  }
  let area = 0;
  for (let k = 0; k < places.length; k++) {
    const sample = (first + places[k]) | 0;
    dose[sample] += begins[k];
    area = (area + areaByDose[dose[sample] >> stepBits]) | 0;
  }
  return area;
}
