import type { Material } from "../core/material/material.js";
import type { Pitch } from "../core/plane.js";
import { type BeamMotion, linesAlike, type Spot } from "../core/spot.js";
import { type SampleTaps, tapsAcross, tapsAlong } from "./sample-taps.js";

/** Samples per 1/e² spot diameter. Enough from about 350 lines per inch on with a 0.1 mm spot. */
const SAMPLES_PER_SPOT = 5;

/**
 * Below this overdrive (spot/pitch ratio) lines stand apart and the dose ripples from line to line. Five samples then leave up to
 * 0.6 L* of bias on a steep material. Ten samples leave under 0.05 in mid-tones. In a solid fill they leave under 0.1 down to an
 * overdrive of 0.9, and under 0.35 below it.
 */
const RIPPLE_FREE_OVERDRIVE = 1.5;

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
  /** The exponent q of section 14: dose = (Σ over lines of dose^q)^(1/q). 1 if the doses of lines add up. */
  readonly lineExponent: number;
}

/** What a plan needs besides the path of the beam. */
export interface PlanNeeds {
  /** Multiplies the samples in both directions; 2 or more checks whether the sampling suffices. Default 1. */
  readonly refinement?: number;
  /** Power levels of the bitmap, 2..256. Default 2. */
  readonly levels?: number;
  /** What will be burned. Default: a material that responds gradually, on which the dose of all lines adds up. */
  readonly material?: Pick<Material, "curve" | "lineExponent"> | undefined;
}

/**
 * Plans the exposure of section 2: each burned pixel is a box of one pitch along its line, blurred by the spot; across the
 * lines it is a plain Gaussian. Samples sit at the centres of equal parts of each pixel. A power level below the highest
 * deposits its share of the dose.
 *
 * @param spot 1/e² diameters
 */
export function planExposure(
  pitch: Pitch,
  spot: Spot,
  motion: BeamMotion,
  { refinement = 1, levels = 2, material }: PlanNeeds = {},
): ExposurePlan {
  const samplesAlong = refinement * samplesPerPixel(pitch.alongMm, spot.alongMm);
  const samplesAcross = refinement * samplesPerPixel(pitch.acrossMm, spot.acrossMm);
  const path = { pitch, spot, motion };
  const evenLines = tapsAlong(path, samplesAlong, 1, 0);
  return {
    levels,
    samplesAlong,
    samplesAcross,
    evenLines,
    oddLines: linesAlike(motion) ? evenLines : tapsAlong(path, samplesAlong, -1, motion.lineShiftMm),
    across: tapsAcross(path, samplesAcross),
    lineExponent: material?.lineExponent ?? 1,
  };
}

function samplesPerPixel(pitchMm: number, spotDiameterMm: number): number {
  const samples = Math.ceil((SAMPLES_PER_SPOT * pitchMm) / spotDiameterMm - 1e-9);
  return spotDiameterMm / pitchMm < RIPPLE_FREE_OVERDRIVE ? 2 * samples : samples;
}
