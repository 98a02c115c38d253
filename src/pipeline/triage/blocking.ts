import type { SourceWindow } from "../../3-resample/source-window.js";
import { FOUR, forwardLine, fourierPlan, reversedOrder, VALUE_FLOATS } from "../../5-burn/fourier-kernels.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { medianOf } from "../../core/median.js";
import { cyclesPerDegreeFromPerMm, eyeModulation, spotModulation } from "../../core/physics/modulation.js";
import type { Plane } from "../../core/plane.js";
import { linesOf, stepProfiles } from "./step-profile.js";

/** Pixels of a measured line for each spot, at least. */
const PX_PER_SPOT = 2;
/** Sides of blocks that are looked for, in pixels of such a line: smaller ones do not show, larger ones are parts of the picture. */
const SIDES_PX = [4, 32] as const;
/** Distances over which steps are measured: an enlarged picture has wider ones. */
const LAGS_PX = [1, 3] as const;
/** Multiples of the block frequency that narrow steps have alike. A wave, as enlarging leaves it, has the first alone. */
const HARMONICS = 3;
/** Amplitudes below so many medians may be chance: white noise exceeds that at one frequency in 16, but not at all six of a comb. */
const OVER_MEDIAN = 2;
/** A line shorter than so many blocks says nothing. */
const MIN_BLOCKS = 8;
/** Points of a spectrum over those of its line, so that no frequency falls between. */
const PADDING = 4;

/** A piece and who looks at it. */
export interface Viewed {
  /** Photo pixels per mm. */
  readonly pxPerMm: number;
  readonly spotMm: number;
  readonly viewDistanceMm: number;
}

/**
 * How far the blocks of a JPEG stand out on the piece: the mean height of the steps at their sides where the picture is even, in
 * 8-bit codes, times what spot and eye leave of a wave as long as a block. Nearly 0 for a picture without blocks.
 *
 * Steps at the sides of blocks come at equal distances, along rows and along columns alike, whatever the picture has been enlarged
 * to. So they are a comb in the spectrum of the steps by their place (Z. Wang, A. C. Bovik, B. L. Evans, "Blind measurement of
 * blocking artifacts in images", Proc. IEEE ICIP 2000; from memory).
 */
export function blocking(
  light: Plane<"encoded-luminance", Uint16Array>,
  window: SourceWindow,
  { pxPerMm, spotMm, viewDistanceMm }: Viewed,
): number {
  // A power of two divides blocks of eight pixels evenly. Otherwise beats would look like larger blocks.
  const by = 2 ** Math.max(0, Math.floor(Math.log2((pxPerMm * spotMm) / PX_PER_SPOT)));
  const [rows, columns] = linesOf(light, window, by);
  const along = stepProfiles(rows, by, LAGS_PX);
  const across = stepProfiles(columns, by, LAGS_PX);
  const shortest = Math.min(rows.length, columns.length);
  const length = 2 ** Math.ceil(Math.log2(PADDING * Math.max(SIDES_PX[1], rows.length, columns.length)));
  const spectra = spectraOf([...along, ...across], length).map(aboveChance);
  const largest = Math.min(SIDES_PX[1], shortest / MIN_BLOCKS);
  let highest = 0;
  for (let at = Math.ceil(length / largest); at <= length / SIDES_PX[0]; at++) {
    const side = length / at;
    const perMm = pxPerMm / (by * side);
    const eye = eyeModulation(cyclesPerDegreeFromPerMm(perMm, viewDistanceMm));
    const shown = side * spotModulation(perMm, spotMm) * eye;
    LAGS_PX.forEach((lag, i) => {
      // A step, and the steps before and after it, have room in a block.
      if (side < 3 * lag) return;
      const teeth = [spectra[i], spectra[LAGS_PX.length + i]].map((spectrum) => toothOf(spectrum, at, lag));
      highest = Math.max(highest, shown * Math.min(...teeth));
    });
  }
  return highest;
}

/** A spectrum without what is not far above its median. */
function aboveChance(spectrum: Float64Array): Float64Array {
  const least = OVER_MEDIAN * medianOf(spectrum);
  return spectrum.map((amplitude) => (amplitude > least ? amplitude : 0));
}

/**
 * Height of the teeth of a comb over their distance, by the smallest of its harmonics. A step over a lag shows in as many places, so
 * that its harmonics have Dirichlet's factor.
 */
function toothOf(spectrum: Float64Array, at: number, lag: number): number {
  let height = Number.POSITIVE_INFINITY;
  for (let times = 1; times <= HARMONICS; times++) {
    // The spectrum goes from 0 to half the rate of samples; beyond that it is mirrored.
    const last = spectrum.length - 1;
    const phase = (Math.PI * times * at) / (2 * last);
    const amplitude = spectrum[times * at <= last ? times * at : 2 * last - times * at];
    height = Math.min(height, amplitude / Math.abs(Math.sin(lag * phase) / Math.sin(phase)));
  }
  return height;
}

/** Amplitudes of each profile up to half the rate of samples, over its length. Its ends are faded, so that they make no frequencies. */
function spectraOf(profiles: readonly Float64Array[], length: number): Float64Array[] {
  const line = new Float32Array(VALUE_FLOATS * length);
  profiles.forEach((profile, which) => {
    profile.forEach((value, at) => {
      const fade = 1 - Math.cos((2 * Math.PI * (at + 0.5)) / profile.length);
      line[VALUE_FLOATS * at + which] = (value * fade) / profile.length;
    });
  });
  forwardLine(fourierPlan(createKernelMemory("plain"), length), line);
  const spectra = profiles.map(() => new Float64Array(length / 2 + 1));
  reversedOrder(length).forEach((frequency, place) => {
    if (frequency > length / 2) return;
    for (let which = 0; which < FOUR; which++) {
      const at = VALUE_FLOATS * place + which;
      spectra[which][frequency] = Math.sqrt(line[at] ** 2 + line[at + FOUR] ** 2);
    }
  });
  return spectra;
}
