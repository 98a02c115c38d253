import type { KernelMemory } from "../core/kernel-memory.js";
import type { Footprint } from "../core/surface-model.js";

/**
 * A footprint in the layout of the loops. Plain loops read single taps. Vector loops read groups of four neighbouring samples,
 * with doses of 0 outside the footprint.
 */
export interface LaidFootprint {
  /** Samples to the right, and lines of samples down, from the first sample of a pixel to each tap or group. */
  readonly along: Int32Array;
  readonly across: Int32Array;
  /** [taps], or [groups × 4] */
  readonly doses: Int32Array;
  /** [taps], or [groups]: buffer for their places in a field. */
  readonly places: Int32Array;
}

/** Samples in a group. */
const GROUP = 4;

export function layFootprint({ along, across, dose }: Footprint, memory: KernelMemory): LaidFootprint {
  const size = memory.simd ? GROUP : 1;
  const starts: { along: number; across: number }[] = [];
  const doses: number[] = [];
  for (let k = 0; k < dose.length; k++) {
    const last = starts[starts.length - 1];
    const within = last && last.across === across[k] ? along[k] - last.along : size;
    if (within >= size) {
      starts.push({ along: along[k], across: across[k] });
      doses.push(...new Array<number>(size).fill(0));
    }
    doses[(starts.length - 1) * size + (within < size ? within : 0)] = dose[k];
  }
  const laid = memory.int32(doses.length);
  laid.set(doses);
  return {
    along: Int32Array.from(starts, (start) => start.along),
    across: Int32Array.from(starts, (start) => start.across),
    doses: laid,
    places: memory.int32(starts.length),
  };
}

/** Pixels that footprints reach to any side along and across. */
export function reachOf(footprints: readonly Footprint[], samplesAlong: number, samplesAcross: number) {
  const furthest = (places: Int32Array, samples: number): number =>
    places.reduce((max, place) => Math.max(max, Math.abs(Math.floor(place / samples))), 0);
  return {
    columns: Math.max(...footprints.map(({ along }) => furthest(along, samplesAlong))),
    rows: Math.max(...footprints.map(({ across }) => furthest(across, samplesAcross))),
  };
}
