import { invertToneCurve as invert, type ToneCurve } from "../5-burn/tone-curve.js";
import { FRACTION_ONE } from "../core/burn-fraction.js";
import { BRIGHTEST_CODE } from "../core/luminance-codes.js";
import { type Plane, plane } from "../core/plane.js";
import { measureCurve } from "../pipeline/burn/burn-curve.js";
import { type BurnRule, burnRows, ruleByCurve } from "../pipeline/burn/burn-rule.js";
import { createJob, type Job } from "../pipeline/job.js";
import {
  BEAM,
  type BeamOptions,
  HALFTONE,
  type HalftoneOptions,
  invalidOption,
  methodOf,
  resolveJob,
  SURFACE,
  type SurfaceOptions,
} from "./job.js";
import { LUMINANCE, outputFor, type Picture, readPicture } from "./picture.js";
import { codeRows } from "./rows.js";

/** How the range of the photo is mapped to the range of the surface. */
export interface ToneMapOptions {
  /** `lightness` (default) spaces tones evenly to the eye; `luminance` keeps the photo's light ratios. */
  readonly toneMap?: "lightness" | "luminance" | undefined;
}

/** Options of `wantedLuminance`. */
export interface WantedLuminanceOptions extends BeamOptions, SurfaceOptions, ToneMapOptions {
  /** [rows × columns] Array for the result. */
  readonly out?: Float32Array | undefined;
}

/**
 * The wanted luminance factors of the surface: the photo's linear luminance, mapped to the range that spot, pitch and material can
 * reach, evenly in L* (CIE 15, 2004) or in luminance.
 *
 * @param luminance [rows, columns] linear, 0..1; not modified
 * @returns [rows, columns] luminance factors 0..1
 * @throws SpotpitchError `OPTION_*`, `INPUT_MATERIAL_INVALID`
 */
export function wantedLuminance(
  luminance: Picture<"luminance">,
  options: WantedLuminanceOptions = {},
): Plane<"luminance-factor"> {
  const source = readPicture("luminance", luminance, LUMINANCE);
  const { columns, rows, data } = source;
  const job = resolveJob(options, [...BEAM, ...SURFACE, "toneMap", "out"], source.pitch);
  const out = outputFor(options.out, columns * rows, Float32Array, [source]);
  const { wantedByCode } = createJob(job).model;
  for (let i = 0; i < out.length; i++) {
    out[i] = wantedByCode[Math.min(BRIGHTEST_CODE, Math.max(0, Math.floor(data[i] * BRIGHTEST_CODE + 0.5)))];
  }
  return plane("luminance-factor", out, rows, columns, job.pitch);
}

/** The range of luminance factors that spot, pitch and material can reach: bare surface and solid fill. */
export interface ReachableTones {
  readonly darkest: number;
  readonly lightest: number;
}

/**
 * The ends of the tone scale: luminance factors 0..1 of the bare surface and of a solid fill, including ripple and gaps between
 * its lines.
 *
 * @throws SpotpitchError `OPTION_*`, `INPUT_MATERIAL_INVALID`
 */
export function reachableTones(options: BeamOptions & SurfaceOptions): ReachableTones {
  const job = resolveJob(options, [...BEAM, ...SURFACE]);
  const { darkest, lightest } = createJob(job).model.range;
  return { darkest, lightest };
}

/**
 * Measure the tone curve of one combination of halftone, spot, pitch and surface. Up to 129 flat patches (33 if spots do not
 * overlap) are halftoned, exposed and predicted, and their mean luminance factors are pooled to a monotone curve (M. Ayer et al.,
 * "An empirical distribution function for sampling with incomplete information", 1955). This takes a tenth of a second to a few
 * seconds, so reuse the curve.
 *
 * @returns burn fractions rising from 0 to 1, and the luminance factor 0..1 of each
 * @throws SpotpitchError as `halftone`
 */
export function measureToneCurve(options: HalftoneOptions): ToneCurve {
  const job = resolveJob(options, HALFTONE);
  const method = methodOf(options, job);
  return measureCurve(createJob(job), method);
}

/**
 * The burn fraction for a luminance factor: the inverted tone curve, linear between its points. If the curve is flat, it gives the
 * smallest fraction, which burns least; outside its range, the nearest end.
 *
 * @throws SpotpitchError `OPTION_INVALID` for a curve that is not monotone, or does not go from fraction 0 to 1
 */
export function invertToneCurve(curve: ToneCurve): (luminanceFactor: number) => number {
  return invert(checkedCurve(curve));
}

/** Options of `compensate`. */
export interface CompensateOptions extends HalftoneOptions, ToneMapOptions {
  /** From `measureToneCurve` with the same options. Default: a new measurement. */
  readonly curve?: ToneCurve | undefined;
  /** False assumes that a mark is as large as its pixels (A. Murray, 1936). Default true. */
  readonly compensate?: boolean | undefined;
  /** [rows × columns] Array for the result. */
  readonly out?: Float32Array | undefined;
}

/**
 * The burn fractions that make the wanted tones, from the photo's luminance on the engraving grid. The tone curve is inverted at
 * every pixel. Then texture finer than the spot is balanced: the spot averages its dose, while the eye would average its light
 * (ours).
 *
 * @param luminance [rows, columns] linear, 0..1; not modified
 * @returns [rows, columns] 0..1, or −1 where the surface must stay bare: what `halftone` takes
 * @throws SpotpitchError as `halftone`
 */
export function compensate(
  luminance: Picture<"luminance">,
  options: CompensateOptions,
): Plane<"burn-fraction"> {
  const source = readPicture("luminance", luminance, LUMINANCE);
  const { columns, rows } = source;
  const takes = [...HALFTONE, "toneMap", "curve", "compensate", "out"];
  const job = resolveJob(options, takes, source.pitch);
  const out = outputFor(options.out, columns * rows, Float32Array, [source]);
  const work = createJob(job);
  const { memory } = work;
  const fractionsOf = burnRows(work, ruleOf(work, options), codeRows(memory, source), { columns, rows });
  const row = memory.int16(columns);
  for (let y = 0, to = 0; y < rows; y++) {
    fractionsOf(y, row);
    for (let x = 0; x < columns; x++) out[to++] = row[x] < 0 ? -1 : row[x] / FRACTION_ONE;
  }
  return plane("burn-fraction", out, rows, columns, job.pitch);
}

/** The rule from wanted tones to burn fractions: with the given curve, with a measured one, or without a curve. */
export function ruleOf(work: Job, options: Pick<CompensateOptions, "method" | "curve">): BurnRule {
  const method = methodOf(options, work.options);
  const { curve } = options;
  return ruleByCurve(work, method, () => (curve ? checkedCurve(curve) : measureCurve(work, method)));
}

function checkedCurve(curve: ToneCurve): ToneCurve {
  const [fractions, luminance] = [curve?.fractions, curve?.luminance].map((values) =>
    Float64Array.from(values ?? []),
  );
  const last = fractions.length - 1;
  const whole = last > 0 && fractions[0] === 0 && fractions[last] === 1 && luminance.length === last + 1;
  const rises = fractions.every((value, i) => i === 0 || value > fractions[i - 1]);
  const sign = Math.sign(luminance[last] - luminance[0]);
  const monotone = luminance.every((value, i) => i === 0 || sign * (value - luminance[i - 1]) >= 0);
  const inRange = luminance.every((value) => value >= 0 && value <= 1);
  if (whole && rises && monotone && inRange) return { fractions, luminance };
  throw invalidOption(
    "curve",
    "curve takes burn fractions that rise from 0 to 1, and as many luminance factors 0 to 1 that all fall or all rise.",
  );
}
