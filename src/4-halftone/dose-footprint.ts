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
  /** The same for a pixel that begins a burst; the same array if there is no difference. */
  readonly begins: Int32Array;
  /** [taps], or [groups]: buffer for their places in a field. */
  readonly places: Int32Array;
}

/** Samples in a group. */
const GROUP = 4;

export function layFootprint(
  { along, across, dose, begins }: Footprint,
  memory: KernelMemory,
): LaidFootprint {
  const size = memory.simd ? GROUP : 1;
  const starts: { along: number; across: number }[] = [];
  /** For each tap its place among the doses. */
  const places: number[] = [];
  for (let k = 0; k < dose.length; k++) {
    const last = starts[starts.length - 1];
    const within = last && last.across === across[k] ? along[k] - last.along : size;
    if (within >= size) starts.push({ along: along[k], across: across[k] });
    places.push((starts.length - 1) * size + (within < size ? within : 0));
  }
  const lay = (values: Int32Array): Int32Array => {
    const laid = memory.int32(starts.length * size).fill(0);
    values.forEach((value, k) => {
      laid[places[k]] = value;
    });
    return laid;
  };
  const doses = lay(dose);
  return {
    along: Int32Array.from(starts, (start) => start.along),
    across: Int32Array.from(starts, (start) => start.across),
    doses,
    begins: begins ? lay(begins) : doses,
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
