import { FRACTION_ONE, fractionCode } from "../core/burn-fraction.js";
import { luminanceFactorAt, type Response } from "../core/material/response.js";
import { modulo } from "../core/modulo.js";
import { relativeLinePeakDose } from "../core/physics/line-dose.js";
import type { Pitch } from "../core/plane.js";
import { type BeamPath, linesAlike, lossLengthMm, overdriveOf, type Spot } from "../core/spot.js";
import { AREA_ONE, type Footprint, STEPS_PER_DOSE, type SurfaceModel } from "../core/surface-model.js";
import { type FootprintGrid, lostPxOf, spotFootprint } from "./footprint.js";

/**
 * Samples per spot diameter. If spots overlap, four samples per pixel are enough at overdrive 2 (spot/pitch), and one at 4: flat
 * tints come within 1.3 % of their area, and with a tone curve more samples do not change the visual error of photographs. If
 * lines stand apart, the dose is less even and needs more samples.
 */
const SAMPLES_PER_SPOT = 3.9;
const SAMPLES_PER_LONE_SPOT = 6;
const RIPPLE_FREE_OVERDRIVE = 1.5;

/** Limit of the samples per pixel. The model enlarges a spot that would need more. */
const MAX_SAMPLES = 16;
const MIN_OVERDRIVE = SAMPLES_PER_LONE_SPOT / MAX_SAMPLES;

/** Doses of a footprint are whole numbers under 2^17, in steps of no more than 2^5. */
const MAX_TAP = 1 << 17;
const MAX_STEP_BITS = 5;

/** Luminance factors of the bare surface (marked area 0) and of a solid fill (marked area 1). */
export interface SurfaceEnds {
  readonly bare: number;
  readonly solid: number;
}

/**
 * The effect of a burned pixel on the surface, in whole numbers, for halftones that track it.
 *
 * A source that starts later than it stops is followed burst by burst: a pixel adds another dose if it begins a burst. Not followed
 * are gaps that a source fills because it stops more than a pixel late, and lines whose doses do not add up. There the tone curve
 * keeps the mean right.
 *
 * @param ends area is linear in the luminance factor between them (Murray 1936)
 * @param scan the order in which rows are decided
 */
export function createSurfaceModel(
  { pitch, spot, motion }: BeamPath,
  response: Response,
  { bare, solid }: SurfaceEnds,
  scan: "serpentine" | "raster" = "serpentine",
): SurfaceModel {
  const followed: Spot = {
    alongMm: Math.max(spot.alongMm, MIN_OVERDRIVE * pitch.alongMm),
    acrossMm: Math.max(spot.acrossMm, MIN_OVERDRIVE * pitch.acrossMm),
  };
  const samplesAlong = samplesPerPixel(pitch.alongMm, followed.alongMm);
  const samplesAcross = samplesPerPixel(pitch.acrossMm, followed.acrossMm);
  const stepBits = Math.min(
    MAX_STEP_BITS,
    Math.floor(Math.log2(MAX_TAP / (STEPS_PER_DOSE * linePeak(followed, pitch)))),
  );
  const grid: FootprintGrid = { samplesAlong, samplesAcross, doseOne: STEPS_PER_DOSE * 2 ** stepBits };
  const path = { pitch, spot: followed, motion };
  // Odd lines are decided from the right if the scan is serpentine, and burned from the right if the beam travels both ways.
  const decidedBackwards = motion.oneWay === (scan === "serpentine");
  const lossMm = lossLengthMm(motion);
  const alike = linesAlike(motion) && (lossMm === 0 || !decidedBackwards);
  const evenLines = spotFootprint(path, grid, { direction: 1, shiftMm: 0, decidedBackwards: false });
  const back = motion.oneWay
    ? ({ direction: 1, shiftMm: 0 } as const)
    : ({ direction: -1, shiftMm: motion.lineShiftMm } as const);
  const oddLines = alike ? evenLines : spotFootprint(path, grid, { ...back, decidedBackwards });
  const largest = alike
    ? largestDose(evenLines, grid)
    : largestDose(evenLines, grid) + largestDose(oddLines, grid);
  const perSample = AREA_ONE / (samplesAlong * samplesAcross);
  const areaAt = (dose: number): number =>
    bare === solid ? 0 : (bare - luminanceFactorAt(response, dose)) / (bare - solid);
  return {
    samplesAlong,
    samplesAcross,
    stepBits,
    evenLines,
    oddLines,
    lostPx: lostPxOf(pitch.alongMm, lossMm),
    areaByDose: Int32Array.from({ length: (largest >> stepBits) + 1 }, (_, step) =>
      // Dose 0 leaves no mark. Other steps are taken at their middle.
      Math.round(perSample * areaAt(step === 0 ? 0 : (step + 0.5) / STEPS_PER_DOSE)),
    ),
    expectedShare: expectedShares(areaAt, overdriveOf(pitch, spot)),
  };
}

/** An upper limit of the dose of a pixel: the peak of a line, plus a reserve for the cut ends of its footprint. */
const linePeak = (spot: Spot, pitch: Pitch): number =>
  1.1 * relativeLinePeakDose(pitch.acrossMm, spot.acrossMm);

/**
 * If spots overlap by half or more, the dose of a tint is nearly even, and the burned share is the dose. If they only touch, it is
 * the area. In between it is interpolated.
 */
function expectedShares(areaAt: (dose: number) => number, overdrive: number): Int16Array {
  const overlap = Math.min(1, Math.max(0, overdrive - 1));
  const shares = new Int16Array(FRACTION_ONE + 1);
  let steps = 0;
  for (let code = 1; code < FRACTION_ONE; code++) {
    const area = code / FRACTION_ONE;
    while (steps < STEPS_PER_DOSE && areaAt(steps / STEPS_PER_DOSE) < area) steps++;
    const evenDose = steps / STEPS_PER_DOSE;
    shares[code] = fractionCode(overlap * evenDose + (1 - overlap) * area);
  }
  shares[FRACTION_ONE] = FRACTION_ONE;
  return shares;
}

function samplesPerPixel(pitchMm: number, spotDiameterMm: number): number {
  const overdrive = spotDiameterMm / pitchMm;
  const perSpot = overdrive < RIPPLE_FREE_OVERDRIVE ? SAMPLES_PER_LONE_SPOT : SAMPLES_PER_SPOT;
  return Math.ceil(perSpot / overdrive - 1e-9);
}

/** The largest dose of a sample if all pixels burn. */
function largestDose(
  { along, across, dose, begins = dose }: Footprint,
  { samplesAlong, samplesAcross }: FootprintGrid,
): number {
  const sums = new Float64Array(samplesAlong * samplesAcross);
  dose.forEach((value, k) => {
    sums[modulo(across[k], samplesAcross) * samplesAlong + modulo(along[k], samplesAlong)] += Math.max(
      value,
      begins[k],
    );
  });
  return Math.max(...sums);
}
