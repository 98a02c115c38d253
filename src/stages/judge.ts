import { type Detail, detailLimits as limits } from "../5-burn/detail.js";
import { type RunTime, runTime as timeOf } from "../5-burn/run-time.js";
import type { VisualError } from "../5-burn/sampled-error.js";
import type { TonalResolution } from "../5-burn/tonal-resolution.js";
import { visualErrors } from "../5-burn/visual-error.js";
import { packBitmap } from "../core/packed-bits.js";
import type { Spread } from "../core/spread.js";
import { createJob } from "../pipeline/job.js";
import { toneCounts } from "../pipeline/judge/tone-counts.js";
import { viewingOf } from "../pipeline/judge/viewing.js";
import { type CompensateOptions, ruleOf } from "./compensate.js";
import {
  BEAM,
  type BeamOptions,
  type GridOptions,
  HALFTONE,
  methodOf,
  numberOption,
  resolveJob,
} from "./job.js";
import { bitmapOf, checkSameSize, LUMINANCE_FACTOR, type Picture, readPicture } from "./picture.js";

/** Options of `visualError`. */
export interface VisualErrorOptions extends GridOptions {
  /** Viewing distance, 50 to 10000 mm. Default 300. */
  readonly viewDistanceMm?: number | undefined;
}

/**
 * The visible difference in L* between a predicted piece and the wanted one. Both are blurred by the modulation of the eye at
 * 50 cd/m², a mid-toned surface under 300 lx (R. Näsänen, "Visibility of halftone dot textures", 1984), converted to L* (CIE 15,
 * 2004) and subtracted. Beyond their edges the pictures are mirrored.
 *
 * @param predicted [rows, columns] luminance factors 0..1; not modified
 * @param wanted of the same shape; not modified
 * @returns root mean square and mean (predicted minus wanted), in L*
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function visualError(
  predicted: Picture<"luminance-factor">,
  wanted: Picture<"luminance-factor">,
  options: VisualErrorOptions = {},
): VisualError {
  const seen = readPicture("predicted", predicted, LUMINANCE_FACTOR);
  const target = readPicture("wanted", wanted, LUMINANCE_FACTOR);
  checkSameSize(["predicted", "wanted"], seen, target);
  const job = resolveJob(options, ["pitchMm", "viewDistanceMm"], seen.pitch ?? target.pitch);
  const [error] = visualErrors([seen.data], target.data, seen.columns, {
    pitch: job.pitch,
    viewing: viewingOf(job),
  });
  return error;
}

/** Options of `tonalResolution`. */
export interface TonalResolutionOptions extends Omit<CompensateOptions, "out"> {
  /**
   * Variation of the machine, as relative standard deviations of 0 to 0.25: `common` of the whole piece's dose, `local` of the dose
   * from place to place with its correlation length `localLengthMm` (0.1 to 100), `line` of each line's dose, and `spot` of its
   * diameter, which takes no tones away. Default: 0.08, 0.04 over 2 mm, 0.04, 0.05.
   */
  readonly spread?: Partial<Spread> | undefined;
  /** Another form of `spread.common`: the dose in both directions, as a share of it, 0 to 0.5. Give one of the two. */
  readonly doseSpread?: number | undefined;
}

/**
 * Number of tones that square details of 0.15, 0.25, 0.5 and 1 mm hold. The model engraves 33 flat patches and views them through
 * apertures of these sizes. It counts the steps between them in units of one L* and of the halftone's grain: 1 + Σ
 * |ΔL*| / √(1 + (2σ)²). Ours. It takes seconds.
 *
 * @returns one entry for each size: `addressable` (1 + (levels − 1) · area of the detail / area of a pixel; R. Ulichney, Digital
 * Halftoning, 1987), `nominal`, and `held` while the dose varies: the least count at a common deviation more, none, and one less,
 * in which local and line variation add to the grain what they leave in a detail
 * @throws SpotpitchError as `halftone`
 */
export async function tonalResolution(options: TonalResolutionOptions): Promise<TonalResolution[]> {
  const job = resolveJob(options, [...HALFTONE, "toneMap", "curve", "compensate", "spread", "doseSpread"]);
  const work = createJob(job);
  return toneCounts(work, methodOf(options, job), ruleOf(work, options));
}

/** Options of `detailLimits`. */
export interface DetailLimitsOptions extends BeamOptions {
  /** Pixels of the photo per mm of the piece: 0.01 to 10000. */
  readonly photoPxPerMm: number;
}

/**
 * The finest detail on the piece, in line pairs per mm: the frequencies at which spot, pixel hold and firing lag leave half and a
 * tenth of the modulation (G. D. Boreman, Modulation Transfer Function in Optical and Electro-Optical Systems, 2001), limited by
 * the pitch; and the factor that limits it.
 *
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function detailLimits(options: DetailLimitsOptions): Detail {
  const { pitch, spot, motion } = resolveJob(options, [...BEAM, "photoPxPerMm"]);
  return limits(pitch, spot, motion, numberOption("photoPxPerMm", options.photoPxPerMm, 0.01, 10000));
}

/** Options of `runTime`. */
export interface RunTimeOptions extends GridOptions {
  /** Scan speed, up to 20000 mm/s. Default 300. */
  readonly speedMmPerS?: number | undefined;
  /** Acceleration of the head, up to 10⁶ mm/s². Default 5000. */
  readonly accelerationMmPerS2?: number | undefined;
  /** Time of a step to the next line that is not hidden in the reversal, 0 to 10 s. Default 0. */
  readonly stepTimeS?: number | undefined;
  /** Whether all lines are burned in the same direction, with an empty return. Default false. */
  readonly oneWay?: boolean | undefined;
  /** Time by which the source starts later than it stops, −200 to 200 µs: the beam is on for less. Default 0. */
  readonly firingLossUs?: number | undefined;
  /** Power levels of the bitmap, 2 to 256. Default 2. */
  readonly levels?: number | undefined;
}

/**
 * The burning time of a bitmap. Each line runs from its first to its last burned pixel, with run-up and run-out at constant
 * acceleration (kinematics). Blank lines are skipped.
 *
 * @param bitmap [rows, columns] 0..levels − 1; not modified
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function runTime(bitmap: Picture<"bitmap", Uint8Array>, options: RunTimeOptions = {}): RunTime {
  const source = readPicture("bitmap", bitmap, bitmapOf(options));
  const takes = [
    ...["pitchMm", "speedMmPerS", "accelerationMmPerS2", "stepTimeS", "oneWay", "firingLossUs", "levels"],
  ];
  const job = resolveJob(options, takes, source.pitch);
  const packed = packBitmap(source.data, source.columns, source.rows, job.levels);
  return timeOf(packed, job.pitch.alongMm, job);
}
