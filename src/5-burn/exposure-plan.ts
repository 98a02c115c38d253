import type { Material } from "../core/material/material.js";
import { greatestLightnessSlope } from "../core/material/response.js";
import type { Pitch } from "../core/plane.js";
import { type BeamMotion, linesAlike, type Spot } from "../core/spot.js";
import { type SampleTaps, tapsAcross, tapsAlong } from "./sample-taps.js";

/**
 * Samples per 1/e² spot diameter, enough for a gradual material whose lines overlap. Bias of flat tints and of solid fills against
 * 40 samples, in L*, largest of nine tints × Floyd–Steinberg, green noise and clustered dots × 18 overdrives (spot/pitch) from 1.5
 * to 10: 0.04 on maple, 0.17 on a gradual response with a dead zone; but 0.74 on coated steel and 0.52 on slate.
 */
const SAMPLES_PER_SPOT = 5;

/**
 * More samples per spot on a steep material, up to this overdrive and beyond it. Ten samples leave up to 0.06 L* on seven
 * materials. At higher overdrive the dose is more even and seven leave up to 0.22, in half the time of ten.
 */
const EVEN_OVERDRIVE = 2.5;
const MORE_IF_STEEP = 5;
const MORE_IF_STEEP_AND_EVEN = 2;

/**
 * Greatest change of L* per unit of dose, between which the need for samples rises. The bias follows it: up to 120 the bias of five
 * samples is small, from 200 on (slate, anodised aluminium, coated steel) it is not. The change per relative dose does not tell
 * slate (54) from maple (52).
 */
const GRADUAL_SLOPE = 120;
const STEEP_SLOPE = 200;

/**
 * Between these slopes samples across the lines become up to three times as close. A measured coating may be steeper than any
 * preset (coated steel 379): a change within 0.06 of the dose (471) on lines that stand apart needs 30 samples per spot.
 */
const SHARP_SLOPE = 400;
const SHARPEST_SLOPE = 470;
const MAX_SHARPNESS = 3;

/**
 * Below this overdrive lines stand apart and the dose ripples from line to line. Twice the samples are then taken on every
 * material. Five would leave up to 1.7 L* at overdrive 1 on a steep material and 0.14 on a gradual one; ten leave under 0.1. In a
 * solid fill ten leave under 0.35 at an overdrive below 0.9.
 */
const RIPPLE_FREE_OVERDRIVE = 1.5;

/**
 * Most samples of a pixel in one direction. It limits the work where lines stand far apart: below an overdrive of 0.16, or of 0.47
 * on the sharpest material. Bias of solid fills against 1024 samples: up to 0.3 L* at overdrives from 0.2 on, up to 1.2 below,
 * where almost all of the surface stays bare.
 */
const MAX_SAMPLES = 64;

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
  const slope = material ? greatestLightnessSlope(material.curve) : 0;
  // Along a line the dose is a box blurred by the spot, without ripple: the usual samples do on the sharpest material.
  const samplesAlong =
    refinement * samplesPerPixel(pitch.alongMm, spot.alongMm, Math.min(slope, SHARP_SLOPE));
  const samplesAcross = refinement * samplesPerPixel(pitch.acrossMm, spot.acrossMm, slope);
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

/** @param slope greatest change of L* per unit of dose */
function samplesPerPixel(pitchMm: number, spotDiameterMm: number, slope: number): number {
  const overdrive = spotDiameterMm / pitchMm;
  const steepness = share(slope, GRADUAL_SLOPE, STEEP_SLOPE);
  const sharpness = 1 + (MAX_SHARPNESS - 1) * share(slope, SHARP_SLOPE, SHARPEST_SLOPE);
  const samples = (perSpot: number): number => Math.ceil((sharpness * perSpot) / overdrive - 1e-9);
  if (overdrive < RIPPLE_FREE_OVERDRIVE) return Math.min(MAX_SAMPLES, 2 * samples(SAMPLES_PER_SPOT));
  const more = overdrive <= EVEN_OVERDRIVE * (1 + 1e-9) ? MORE_IF_STEEP : MORE_IF_STEEP_AND_EVEN;
  return samples(SAMPLES_PER_SPOT + steepness * more);
}

/** How far a value lies between two limits, 0..1. */
const share = (value: number, from: number, to: number): number =>
  Math.min(1, Math.max(0, (value - from) / (to - from)));
