import { fractionCode, STAYS_BARE } from "../core/burn-fraction.js";
import { unpackBitmap } from "../core/packed-bits.js";
import { type Bitmap, plane } from "../core/plane.js";
import { createJob, halftoneFunction } from "../pipeline/job.js";
import { HALFTONE, type HalftoneOptions, invalidOption, methodOf, resolveJob } from "./job.js";
import { BURN_FRACTION, outputFor, type Picture, ROUNDING, readPicture } from "./picture.js";

/** Options of `halftone`. */
export interface HalftonePictureOptions extends HalftoneOptions {
  /** [rows × columns] Array for the result. */
  readonly out?: Uint8Array | undefined;
}

/**
 * Halftone burn fractions with one of `halftoneMethods`, which state their sources. Material, spot and motion affect only
 * `dose-feedback`, which takes marked area; the spot also sets the default ruling of `clustered-dot`.
 *
 * @param fractions [rows, columns] 0..1, the share of full power in the surroundings of a pixel, or −1 for a pixel that must not
 * burn, whatever error its neighbours diffuse to it; not modified
 * @returns [rows, columns] 1 = burn, 0 = bare; with more power levels 0..levels − 1
 * @throws SpotpitchError `OPTION_METHOD_UNKNOWN`, `OPTION_METHOD_GRID`, `OPTION_METHOD_LEVELS`, `OPTION_INVALID`, `OPTION_UNKNOWN`,
 * `OPTION_CONFLICT`, and for the material `OPTION_MATERIAL_UNKNOWN`, `OPTION_MATERIAL_FORBIDDEN`, `INPUT_MATERIAL_INVALID`
 */
export function halftone(fractions: Picture<"burn-fraction">, options: HalftonePictureOptions): Bitmap {
  const source = readPicture("fractions", fractions, BURN_FRACTION);
  const { columns, rows } = source;
  const job = resolveJob(options, [...HALFTONE, "out"], source.pitch);
  const method = methodOf(options, job);
  const out = outputFor(options.out, columns * rows, Uint8Array, [source]);
  const codes = Int16Array.from(source.data, codeOf);
  out.set(unpackBitmap(halftoneFunction(method, createJob(job))(codes, columns, rows)));
  return plane("bitmap", out, rows, columns, job.pitch);
}

/** A fraction a rounding error below 0 is 0; one of −1 stands for a pixel that must stay bare. */
function codeOf(fraction: number): number {
  if (fraction >= 0) return fractionCode(fraction);
  if (fraction >= -ROUNDING) return 0;
  if (fraction <= ROUNDING - 1) return STAYS_BARE;
  throw invalidOption("fractions", `fractions takes values 0 to 1, and −1; got ${fraction}.`);
}
