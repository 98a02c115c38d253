import { planExposure } from "../5-burn/exposure-plan.js";
import { predictBitmap } from "../5-burn/predict.js";
import { packBitmap } from "../core/packed-bits.js";
import { type Plane, plane } from "../core/plane.js";
import { BEAM, type BeamOptions, numberOption, resolveJob, SURFACE, type SurfaceOptions } from "./job.js";
import { bitmapOf, outputFor, type Picture, readPicture } from "./picture.js";

/** Options of `predict`. */
export interface PredictOptions extends BeamOptions, SurfaceOptions {
  /** Dose relative to the nominal dose, 0 to 4; 0.9 is a machine that burns a tenth too little. Default 1. */
  readonly dose?: number | undefined;
  /** [rows × columns] Array for the result. */
  readonly out?: Float32Array | undefined;
}

const MAX_DOSE = 4;

/**
 * Predict the engraved piece: the bitmap's dose field (`expose`), the surface's response to it at every sample, and its mean
 * over each pixel. Model: Gaussian spot, doses that add up, response by monotone cubic (F. N. Fritsch and J. Butland, "A method
 * for constructing local monotone piecewise cubic interpolants", 1984).
 *
 * @param bitmap [rows, columns] 0..levels − 1; not modified
 * @returns [rows, columns] luminance factors 0..1
 * @throws SpotpitchError `OPTION_*`, `INPUT_MATERIAL_INVALID`
 */
export function predict(
  bitmap: Picture<"bitmap", Uint8Array>,
  options: PredictOptions = {},
): Plane<"luminance-factor"> {
  const source = readPicture("bitmap", bitmap, bitmapOf(options));
  const { columns, rows, data } = source;
  const { pitch, spot, motion, levels, material } = resolveJob(
    options,
    [...BEAM, ...SURFACE, "dose", "out"],
    source.pitch,
  );
  const dose = numberOption("dose", options.dose ?? 1, 0, MAX_DOSE);
  const out = outputFor(options.out, columns * rows, Float32Array, [source]);
  const plan = planExposure(pitch, spot, motion, { levels, material });
  const packed = packBitmap(data, columns, rows, levels);
  const [predicted] = predictBitmap({ plan, response: material.curve }, packed, [dose]);
  out.set(predicted);
  return plane("luminance-factor", out, rows, columns, pitch);
}
