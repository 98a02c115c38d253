import { type BeamPath, lagLengthMm, lossLengthMm } from "../core/spot.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { type Burst, burstProfile, gaussianDensity } from "./line-profile.js";

/**
 * The Gaussian ends at this many standard deviations. Beyond it lie 4e-8 of the dose, and no more than 1e-6 from a single line if
 * the line pitch is no more than twice the spot.
 */
const TAIL_SIGMAS = 5.5;

/** The exponential tail of a lag ends at this many time constants (4e-6 of the dose left). */
const TAIL_LAGS = 12.5;

/** A longer tail is summed by recursion instead of tap by tap. */
const MAX_TAPPED_TAIL_PX = 48;

/** Weights of neighbouring pixels for the samples of one pixel. Pixel x + k at sample s has taps[s · width + k + before]. */
export interface SampleTaps {
  /** Pixels to either side that matter for a sample, with the whole tail of a lag and the change of bursts. */
  readonly reach: number;
  /** Taps run from k = −before.. */
  readonly before: number;
  /** ..to k = after. */
  readonly after: number;
  /** before + after + 1. */
  readonly width: number;
  /** [samples × width] */
  readonly taps: Float64Array;
  /** Dose of a long lag from beyond the taps. */
  readonly tail?: LagTail;
  /** What happens to each burst before its pixels are weighed. Absent if the source starts as late as it stops. */
  readonly bursts?: BurstChange;
}

/** Bursts of a source that starts later than it stops, or stops later than it starts. A burst is a run of pixels at any power. */
export interface BurstChange {
  /** 1 if the beam travels to the right, −1 to the left. */
  readonly direction: 1 | -1;
  /** Whether bursts are shorter at their start. Otherwise they are longer at their end. */
  readonly shortens: boolean;
  /** Whole pixels that a burst loses or gains. The pixel after them burns in part. */
  readonly wholePx: number;
  /** Taps of the pixel that burns in part. */
  readonly part: SampleTaps;
}

/**
 * The exponential tail of a long lag. Pixel x − direction · n, n ≥ `from`, adds weights[s] · decay^(n − from) to sample s of
 * pixel x.
 */
export interface LagTail {
  /** 1 if the beam travels to the right, −1 to the left. */
  readonly direction: 1 | -1;
  readonly from: number;
  /** Factor from one pixel to the next, 0..1. */
  readonly decay: number;
  /** [samples] */
  readonly weights: Float64Array;
}

/** Lines scanned in one direction. */
interface TravelledLine {
  readonly pitchMm: number;
  readonly samples: number;
  readonly sigmaMm: number;
  readonly lagMm: number;
  /** 1 if the beam travels to the right, −1 to the left. */
  readonly direction: 1 | -1;
  /** Shift of the line along itself. */
  readonly shiftMm: number;
}

/**
 * Taps of a line that is scanned in one direction.
 *
 * @param samples of a pixel
 * @param direction 1 if the beam travels to the right, −1 to the left
 */
export function tapsAlong(
  { pitch, spot, motion }: BeamPath,
  samples: number,
  direction: 1 | -1,
  shiftMm: number,
): SampleTaps {
  const pitchMm = pitch.alongMm;
  const sigmaMm = sigmaMmFromSpotDiameterMm(spot.alongMm);
  const line: TravelledLine = { pitchMm, samples, sigmaMm, lagMm: lagLengthMm(motion), direction, shiftMm };
  const pixel: Burst = { fromMm: -pitchMm / 2, toMm: pitchMm / 2 };
  const whole = tapsOfBurst(line, pixel);
  const lossMm = lossLengthMm(motion);
  if (lossMm === 0) return whole;
  const wholePx = Math.floor(Math.abs(lossMm) / pitchMm);
  const splitMm = pixel.fromMm + Math.abs(lossMm) - wholePx * pitchMm;
  const shortens = lossMm > 0;
  const part = tapsOfBurst(
    line,
    shortens ? { fromMm: splitMm, toMm: pixel.toMm } : { fromMm: pixel.fromMm, toMm: splitMm },
  );
  return {
    ...whole,
    reach: whole.reach + wholePx + 1,
    bursts: { direction, shortens, wholePx, part },
  };
}

/** @param burst within one pixel, from its centre in the direction of travel */
function tapsOfBurst(line: TravelledLine, burst: Burst): SampleTaps {
  const { pitchMm, samples, sigmaMm, lagMm, direction, shiftMm } = line;
  const profile = (xMm: number): number => burstProfile(direction * (xMm - shiftMm), burst, sigmaMm, lagMm);
  const aheadMm = pitchMm / 2 + TAIL_SIGMAS * sigmaMm;
  const behindMm = aheadMm + TAIL_LAGS * lagMm;
  // From here on Φ(z − r) of the line profile is 1, and the tail of a lag is a pure exponential.
  const pureMm = aheadMm + (lagMm > 0 ? sigmaMm ** 2 / lagMm : 0);
  const recursive = TAIL_LAGS * lagMm > MAX_TAPPED_TAIL_PX * pitchMm && pureMm < behindMm;
  const tappedMm = recursive ? pureMm : behindMm;
  const [fromMm, toMm] = direction === 1 ? [-aheadMm, tappedMm] : [-tappedMm, aheadMm];
  const near = sampleTaps(pitchMm, samples, fromMm + shiftMm, toMm + shiftMm, profile);
  if (!recursive) return near;
  const from = 1 + (direction === 1 ? near.before : near.after);
  const tail: LagTail = {
    direction,
    from,
    decay: Math.exp(-pitchMm / lagMm),
    weights: Float64Array.from({ length: samples }, (_, s) =>
      profile((sampleAt(s, samples) + direction * from) * pitchMm),
    ),
  };
  return { ...near, reach: near.reach + Math.ceil((behindMm - tappedMm) / pitchMm), tail };
}

/** Taps of lines across the scan. */
export function tapsAcross({ pitch, spot }: Pick<BeamPath, "pitch" | "spot">, samples: number): SampleTaps {
  const sigmaMm = sigmaMmFromSpotDiameterMm(spot.acrossMm);
  return sampleTaps(
    pitch.acrossMm,
    samples,
    -TAIL_SIGMAS * sigmaMm,
    TAIL_SIGMAS * sigmaMm,
    (yMm) => pitch.acrossMm * gaussianDensity(yMm, sigmaMm),
  );
}

/**
 * Taps of a profile that is 0 outside `fromMm`..`toMm`.
 *
 * @param profile dose at a distance (mm) from the centre of a burned pixel
 */
function sampleTaps(
  pitchMm: number,
  samples: number,
  fromMm: number,
  toMm: number,
  profile: (distanceMm: number) => number,
): SampleTaps {
  const outermost = sampleAt(samples - 1, samples);
  const before = Math.max(0, Math.floor(toMm / pitchMm + outermost + 1e-9));
  const after = Math.max(0, Math.floor(outermost - fromMm / pitchMm + 1e-9));
  const width = before + after + 1;
  const taps = new Float64Array(samples * width);
  for (let s = 0; s < samples; s++) {
    for (let k = -before; k <= after; k++) {
      taps[s * width + k + before] = profile((sampleAt(s, samples) - k) * pitchMm);
    }
  }
  return { reach: Math.max(before, after), before, after, width, taps };
}

/** Place of a sample in pixels, 0 at the pixel's centre. */
const sampleAt = (sample: number, samples: number): number => (sample + 0.5) / samples - 0.5;
