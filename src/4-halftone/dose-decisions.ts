import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import { overdriveOf } from "../core/spot.js";
import type { DoseField } from "./dose-field.js";
import type { HalftoneSettings } from "./method.js";
import { randomBits, randomState } from "./random-bits.js";

/** Threshold noise in 1024ths of the marginal area, from its lowest to its highest, where spots overlap by half or more. */
const MOST_NOISE = 307;

/** An error is held to so many marginal areas: what no pixel near by can make good does not pile up. */
const MOST_ERROR = 4;

/** Decides the pixels of a row in turn, and hands error on to the next row. */
export interface DoseDecisions {
  /** Writes the bits of row y to `packed` (in the memory) from `to` on. */
  readonly decide: (y: number, backward: boolean, packed: Uint8Array, to: number) => void;
  readonly restart: () => void;
}

export function createDoseDecisions(
  field: DoseField,
  columns: number,
  { pitch, spot, seed }: HalftoneSettings,
  memory: KernelMemory,
): DoseDecisions {
  /** Error for the next row in AREA_ONE, column 0 at 1. */
  const received = memory.int32(columns + 2);
  const masks = memory.int16(memory.simd ? columns : 0);
  const noise = Math.round(MOST_NOISE * Math.min(1, Math.max(0, overdriveOf(pitch, spot) - 1)));
  let rowsDone = 0;

  return {
    decide(y, backward, packed, to) {
      const state = randomState(seed, rowsDone++ * columns);
      const { simd } = memory;
      if (simd) {
        const { fractions, shares, wanted } = field.row(y);
        const { places, doses } = field.footprint(y);
        simd.decideDoseRow(
          fractions.byteOffset,
          shares.byteOffset,
          wanted.byteOffset,
          received.byteOffset + 4,
          columns,
          backward ? 1 : 0,
          state,
          noise,
          MOST_ERROR,
          field.dose.byteOffset,
          field.samplesAlong,
          places.byteOffset,
          doses.byteOffset,
          places.length,
          field.areaByDose.byteOffset,
          field.stepBits,
          packed.byteOffset + to,
          masks.byteOffset,
        );
      } else decideRow(field, y, columns, backward, state, noise, received, packed, to);
      // What would leave where the row begins goes below its first pixel.
      const first = backward ? columns : 1;
      const outside = backward ? columns + 1 : 0;
      received[first] += received[outside];
      received[outside] = 0;
    },
    restart() {
      rowsDone = 0;
      received.fill(0);
    },
  };
}

/** The plain form of `src/simd/dose-feedback.ts`. */
function decideRow(
  field: DoseField,
  y: number,
  columns: number,
  backward: boolean,
  state: number,
  noise: number,
  received: Int32Array,
  packed: Uint8Array,
  to: number,
): void {
  const { dose, areaByDose, samplesAlong, stepBits } = field;
  const { fractions, shares, wanted } = field.row(y);
  const { places, doses } = field.footprint(y);
  const areas = new Int32Array(3);
  packed.fill(0, to, to + bytesPerPackedRow(columns));
  const step = backward ? -1 : 1;
  let x = backward ? columns - 1 : 0;
  let ahead = 0;
  let below = 0;
  for (let n = 1; n <= columns; n++, x += step) {
    const fraction = fractions[x];
    let error = wanted[x] + received[x + 1] + ahead;
    let burned = fraction === FRACTION_ONE;
    if (fraction <= 0 || burned) {
      // It has no choice; half of what it hands on is as good as lost on its way to one that has.
      error >>= 1;
    } else {
      weigh(dose, x * samplesAlong, places, doses, shares[x], areaByDose, stepBits, areas);
      const expected = areas[0];
      const bare = areas[1] - expected;
      const marked = areas[2] - expected;
      const marginal = marked - bare;
      const random = (randomBits(randomState(state, n)) >>> 19) - 4096;
      const threshold = ((bare + marked) >> 1) + (((marginal >> 8) * ((noise * random) >> 13)) >> 2);
      burned = error >= threshold;
      if (burned) addFootprint(dose, x * samplesAlong, places, doses);
      error -= burned ? marked : bare;
      error = Math.min(MOST_ERROR * marginal, Math.max(-MOST_ERROR * marginal, error));
    }
    if (burned) packed[to + (x >> 3)] |= 128 >> (x & 7);
    ahead = error >> 1;
    const behind = error >> 2;
    received[x + 1 - step] = below + behind;
    below = error - ahead - behind;
  }
  // What would leave at the end of the row goes below its last pixel.
  received[x + 1 - step] = below + ahead;
}

/**
 * Take a pixel's expected dose out of the field, and sum the marked area over its footprint: as it was expected to be, without
 * the pixel, and with it.
 */
function weigh(
  dose: Int32Array,
  first: number,
  places: Int32Array,
  doses: Int32Array,
  share: number,
  areaByDose: Int32Array,
  stepBits: number,
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

function addFootprint(dose: Int32Array, first: number, places: Int32Array, doses: Int32Array): void {
  for (let k = 0; k < places.length; k++) dose[(first + places[k]) | 0] += doses[k];
}
