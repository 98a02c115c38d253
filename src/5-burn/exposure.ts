import type { ExposurePlan, SampleTaps } from "./exposure-plan.js";

/** Hands out row y of a bitmap: `columns` values, 1 = beam on (or a power level 0..1), 0 = off. */
export type BitmapRows = (y: number) => ArrayLike<number>;

/** Receives one row of finely sampled dose: `columns × samplesAlong` values. */
export type DoseRowSink = (dose: Float32Array, y: number, sampleAcross: number) => void;

/**
 * Dose field of rows `firstRow`..`endRow` (exclusive) of a bitmap, one finely sampled row at a time, top to bottom. Only
 * the rows that the spot reaches are held. Outside the bitmap nothing burns.
 *
 * @param rows height of the bitmap; row y is asked for once, in rising order
 */
export function exposeRows(
  plan: ExposurePlan,
  bitmapRow: BitmapRows,
  columns: number,
  rows: number,
  firstRow: number,
  endRow: number,
  sink: DoseRowSink,
): void {
  const { samplesAlong, samplesAcross, across } = plan;
  const width = columns * samplesAlong;
  const ring = Array.from({ length: across.width }, () => new Float32Array(width));
  const dose = new Float32Array(width);
  let nextLine = Math.max(0, firstRow - across.reach);
  for (let y = firstRow; y < endRow; y++) {
    for (; nextLine <= Math.min(rows - 1, y + across.reach); nextLine++) {
      const taps = nextLine % 2 === 0 ? plan.evenLines : plan.oddLines;
      lineDose(bitmapRow(nextLine), columns, samplesAlong, taps, ring[nextLine % across.width]);
    }
    const from = Math.max(-across.reach, -y);
    const to = Math.min(across.reach, rows - 1 - y);
    for (let s = 0; s < samplesAcross; s++) {
      dose.fill(0);
      const tap = s * across.width + across.reach;
      let k = from;
      // Three lines at a time: the sum is read and written once for all of them.
      for (; k + 2 <= to; k += 3) {
        addThree(
          dose,
          ring,
          (y + k) % across.width,
          across.taps[tap + k],
          across.taps[tap + k + 1],
          across.taps[tap + k + 2],
        );
      }
      for (; k <= to; k++) addScaled(dose, ring[(y + k) % across.width], across.taps[tap + k]);
      sink(dose, y, s);
    }
  }
}

/** One line by itself: its dose along, before the spread across. Skips what is off, so sparse lines are cheap. */
function lineDose(
  bits: ArrayLike<number>,
  columns: number,
  samplesAlong: number,
  { reach, width, taps }: SampleTaps,
  out: Float32Array,
): void {
  out.fill(0);
  for (let x = 0; x < columns; x++) {
    const beam = bits[x];
    if (beam === 0) continue;
    const from = Math.max(0, x - reach);
    const to = Math.min(columns - 1, x + reach);
    for (let at = from, i = from * samplesAlong; at <= to; at++) {
      // Pixel x stands k = x − at pixels from the pixel whose samples are written.
      let tap = x - at + reach;
      for (let s = 0; s < samplesAlong; s++, i++, tap += width) out[i] += beam * taps[tap];
    }
  }
}

function addThree(
  sum: Float32Array,
  ring: readonly Float32Array[],
  first: number,
  weight0: number,
  weight1: number,
  weight2: number,
): void {
  const row0 = ring[first];
  const row1 = ring[(first + 1) % ring.length];
  const row2 = ring[(first + 2) % ring.length];
  for (let i = 0; i < sum.length; i++) sum[i] += weight0 * row0[i] + weight1 * row1[i] + weight2 * row2[i];
}

function addScaled(sum: Float32Array, row: Float32Array, weight: number): void {
  for (let i = 0; i < sum.length; i++) sum[i] += weight * row[i];
}
