import type { Pitch } from "../core/plane.js";
import { type BeamMotion, lagLengthMm, type Spot } from "../core/spot.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { gaussianDensity, lineProfile } from "./line-profile.js";

/** Samples per 1/e² spot diameter. Enough from about 350 lines per inch on with a 0.1 mm spot. */
const SAMPLES_PER_SPOT = 5;

/**
 * Below this overdrive (spot/pitch ratio) lines stand apart and the dose ripples from line to line. Five samples then leave up to
 * 0.6 L* of bias on a steep material. Ten samples leave under 0.05 in mid-tones. In a solid fill they leave under 0.1 down to an
 * overdrive of 0.9, and under 0.35 below it.
 */
const RIPPLE_FREE_OVERDRIVE = 1.5;

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
  /** Pixels to either side that may add dose to a sample, with the whole tail of a lag. */
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

/** Precomputed data that turn a bitmap into a finely sampled dose. */
export interface ExposurePlan {
  /** Power levels of the bitmap, 2..256. They set the layout of its rows and the power k/(levels − 1) of level k. */
  readonly levels: number;
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  readonly evenLines: SampleTaps;
  /** The same object as `evenLines` if odd lines do not differ. */
  readonly oddLines: SampleTaps;
  readonly across: SampleTaps;
}

/**
 * Plans the exposure of section 2: each burned pixel is a box of one pitch along its line, blurred by the spot; across the
 * lines it is a plain Gaussian. Samples sit at the centres of equal parts of each pixel. A power level below the highest
 * deposits its share of the dose.
 *
 * @param spot 1/e² diameters
 * @param refinement multiplies the samples in both directions; 2 or more checks whether the sampling suffices
 * @param levels power levels, 2..256
 */
export function planExposure(
  pitch: Pitch,
  spot: Spot,
  motion: BeamMotion,
  refinement = 1,
  levels = 2,
): ExposurePlan {
  const samplesAlong = refinement * samplesPerPixel(pitch.alongMm, spot.alongMm);
  const samplesAcross = refinement * samplesPerPixel(pitch.acrossMm, spot.acrossMm);
  const sigmaAcrossMm = sigmaMmFromSpotDiameterMm(spot.acrossMm);
  const lagMm = lagLengthMm(motion);
  const along = (direction: 1 | -1, shiftMm: number): SampleTaps => {
    const line = { spotMm: spot.alongMm, lagMm, direction, shiftMm };
    return tapsAlong(pitch.alongMm, samplesAlong, line);
  };
  const evenLines = along(1, 0);
  const alike = motion.oneWay || (motion.lineShiftMm === 0 && motion.firingLagUs === 0);
  return {
    levels,
    samplesAlong,
    samplesAcross,
    evenLines,
    oddLines: alike ? evenLines : along(-1, motion.lineShiftMm),
    across: sampleTaps(
      pitch.acrossMm,
      samplesAcross,
      -TAIL_SIGMAS * sigmaAcrossMm,
      TAIL_SIGMAS * sigmaAcrossMm,
      (yMm) => pitch.acrossMm * gaussianDensity(yMm, sigmaAcrossMm),
    ),
  };
}

function samplesPerPixel(pitchMm: number, spotDiameterMm: number): number {
  const samples = Math.ceil((SAMPLES_PER_SPOT * pitchMm) / spotDiameterMm - 1e-9);
  return spotDiameterMm / pitchMm < RIPPLE_FREE_OVERDRIVE ? 2 * samples : samples;
}

/** Lines scanned in one direction. */
interface TravelledLine {
  /** Diameter of the spot along the line. */
  readonly spotMm: number;
  readonly lagMm: number;
  /** 1 if the beam travels to the right, −1 to the left. */
  readonly direction: 1 | -1;
  /** Shift of the line along itself. */
  readonly shiftMm: number;
}

function tapsAlong(
  pitchMm: number,
  samples: number,
  { spotMm, lagMm, direction, shiftMm }: TravelledLine,
): SampleTaps {
  const sigmaMm = sigmaMmFromSpotDiameterMm(spotMm);
  const profile = (xMm: number): number => lineProfile(direction * (xMm - shiftMm), pitchMm, sigmaMm, lagMm);
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
