import ndarray, { type NdArray } from "ndarray";
import { doseStride, exposeRows } from "../5-burn/exposure.js";
import { planExposure } from "../5-burn/exposure-plan.js";
import { packBitmap, rowsOfBitmap } from "../core/packed-bits.js";
import type { ResolvedOptions } from "../options/options.js";
import { BEAM, type BeamOptions, resolveJob } from "./job.js";
import { bitmapOf, outputFor, type Picture, readPicture } from "./picture.js";

/** Number of dose samples in each pixel, along and across the lines, at the centres of its equal parts. */
export interface ExposureSamples {
  readonly along: number;
  readonly across: number;
}

/** The dose of a bitmap on the surface, on a grid finer than its pixels. */
export interface DoseField {
  /** [rows × samples across, columns × samples along] in units of a solid fill's mean dose, 0 or more. */
  readonly dose: NdArray<Float32Array>;
  readonly samples: ExposureSamples;
}

/** Options of `expose`. */
export interface ExposeOptions extends BeamOptions {
  /** [rows × across × columns × along] Array for the result; `exposureSamples` gives its size. */
  readonly out?: Float32Array | undefined;
}

/**
 * The number of samples per pixel that `expose` uses for these options: at most a fifth of the spot apart, and half of that if
 * there are gaps between lines.
 *
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function exposureSamples(options: BeamOptions): ExposureSamples {
  const { samplesAlong, samplesAcross } = exposurePlan(resolveJob(options, BEAM));
  return { along: samplesAlong, across: samplesAcross };
}

/**
 * Expose a bitmap: each burned pixel is a box of one pitch along its line, blurred by a Gaussian spot (A. E. Siegman, Lasers,
 * 1986, ch. 17) and by the source's first-order lag, if there is one. A source that starts later than it stops shortens every
 * burst first. Doses add up. Outside the bitmap nothing burns.
 *
 * @param bitmap [rows, columns] 0..levels − 1; not modified
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function expose(bitmap: Picture<"bitmap", Uint8Array>, options: ExposeOptions = {}): DoseField {
  const source = readPicture("bitmap", bitmap, bitmapOf(options));
  const { columns, rows } = source;
  const job = resolveJob(options, [...BEAM, "out"], source.pitch);
  const plan = exposurePlan(job);
  const { samplesAlong: along, samplesAcross: across } = plan;
  const width = columns * along;
  const out = outputFor(options.out, width * rows * across, Float32Array, [source]);
  const packed = packBitmap(source.data, columns, rows, job.levels);
  const stride = doseStride(columns);
  const collect = (dose: Float32Array, y: number, sampleAcross: number): void => {
    const to = (y * across + sampleAcross) * width;
    for (let x = 0; x < columns; x++) {
      for (let s = 0; s < along; s++) out[to + x * along + s] = dose[s * stride + x];
    }
  };
  exposeRows({ plan }, rowsOfBitmap(packed), { firstRow: 0, endRow: rows }, collect);
  return { dose: ndarray(out, [rows * across, width]), samples: { along, across } };
}

function exposurePlan({ pitch, spot, motion, levels }: ResolvedOptions) {
  return planExposure(pitch, spot, motion, { levels });
}
