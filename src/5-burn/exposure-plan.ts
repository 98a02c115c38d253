import type { Pitch } from "../core/plane.js";
import { type BeamMotion, lagLengthMm, type Spot } from "../core/spot.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { gaussianDensity, lineProfile } from "./line-profile.js";

/** Least samples per 1/e² spot diameter that the model asks for; enough from about 350 lines per inch up with a 0.1 mm spot. */
const SAMPLES_PER_SPOT = 5;

/**
 * Below this overdrive lines stand apart, the dose ripples from line to line, and five samples leave up to 0.6 L* of bias on
 * a steep material. Ten bring mid-tones under 0.05, and a solid fill under 0.1 down to 0.9 and under 0.35 below that.
 */
const RIPPLE_FREE_OVERDRIVE = 1.5;

/** The Gaussian is followed to this many standard deviations; what lies beyond is under 6e-7 of the dose. */
const TAIL_SIGMAS = 5;

/** A lag's exponential tail is followed to this many time constants (4e-6 of the dose left). */
const TAIL_LAGS = 12.5;

/** Weights of neighbouring pixels for the samples of one pixel: weight of pixel x + k at sample s is taps[s·width + k + reach]. */
export interface SampleTaps {
  /** Pixels looked at to either side. */
  readonly reach: number;
  /** 2·reach + 1. */
  readonly width: number;
  readonly taps: Float64Array;
}

/** Everything that turning a bitmap into a finely sampled dose needs to know, worked out once. */
export interface ExposurePlan {
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  readonly evenLines: SampleTaps;
  readonly oddLines: SampleTaps;
  readonly across: SampleTaps;
}

/**
 * Plan the exposure of section 2: each burned pixel is a box of one pitch along its line, blurred by the spot; across the
 * lines it is a bare Gaussian. Samples sit at the centres of equal parts of each pixel.
 *
 * @param refinement multiplies the samples in both directions; 2 or more serves to check that the sampling suffices
 */
export function planExposure(pitch: Pitch, spot: Spot, motion: BeamMotion, refinement = 1): ExposurePlan {
  const samplesAlong = refinement * samplesPerPixel(pitch.alongMm, spot.alongMm);
  const samplesAcross = refinement * samplesPerPixel(pitch.acrossMm, spot.acrossMm);
  const sigmaAlongMm = sigmaMmFromSpotDiameterMm(spot.alongMm);
  const sigmaAcrossMm = sigmaMmFromSpotDiameterMm(spot.acrossMm);
  const lagMm = lagLengthMm(motion);

  const alongTaps = (direction: 1 | -1, shiftMm: number): SampleTaps => {
    const reachMm = pitch.alongMm / 2 + TAIL_SIGMAS * sigmaAlongMm + TAIL_LAGS * lagMm + Math.abs(shiftMm);
    return sampleTaps(pitch.alongMm, samplesAlong, reachMm, (xMm) =>
      lineProfile(direction * (xMm - shiftMm), pitch.alongMm, sigmaAlongMm, lagMm),
    );
  };
  return {
    samplesAlong,
    samplesAcross,
    evenLines: alongTaps(1, 0),
    oddLines: motion.oneWay ? alongTaps(1, 0) : alongTaps(-1, motion.lineShiftMm),
    across: sampleTaps(
      pitch.acrossMm,
      samplesAcross,
      TAIL_SIGMAS * sigmaAcrossMm,
      (yMm) => pitch.acrossMm * gaussianDensity(yMm, sigmaAcrossMm),
    ),
  };
}

function samplesPerPixel(pitchMm: number, spotDiameterMm: number): number {
  const samples = Math.ceil((SAMPLES_PER_SPOT * pitchMm) / spotDiameterMm - 1e-9);
  return spotDiameterMm / pitchMm < RIPPLE_FREE_OVERDRIVE ? 2 * samples : samples;
}

function sampleTaps(
  pitchMm: number,
  samples: number,
  reachMm: number,
  profile: (distanceMm: number) => number,
): SampleTaps {
  const reach = Math.ceil(reachMm / pitchMm + 0.5 - 1e-9);
  const width = 2 * reach + 1;
  const taps = new Float64Array(samples * width);
  for (let s = 0; s < samples; s++) {
    const sampleAt = (s + 0.5) / samples - 0.5;
    for (let k = -reach; k <= reach; k++) {
      taps[s * width + k + reach] = profile((sampleAt - k) * pitchMm);
    }
  }
  return { reach, width, taps };
}
