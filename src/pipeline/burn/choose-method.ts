import { autoCandidates } from "../../4-halftone/candidates.js";
import { halftoneMethods } from "../../4-halftone/catalogue.js";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import { levelsMisfit } from "../../4-halftone/levels.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import type { SpotpitchError } from "../../core/errors.js";
import { NOT_NOTICEABLE } from "../../core/physics/lightness.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { MAX_LEVELS } from "../../core/power-levels.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { Spread } from "../../core/spread.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { isCone } from "../../core/wrap.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type Job, jobWith } from "../job.js";
import { luminanceRows } from "../photo/luminance.js";
import { insideOutline } from "../photo/picture-outline.js";
import type { PictureOnGrid } from "../photo/picture-rows.js";
import { tonesInOrder } from "../photo/tones-in-order.js";
import { eyeWidthPx, type SearchAim } from "../search/search-plan.js";
import { type TrialPicture, trialErrors } from "./method-trials.js";

/** With the maximum of power levels no halftone is needed: each pixel takes the nearest level. */
const WITHOUT_HALFTONE = "threshold";

/** Side of the picture on which methods are judged, in pixels. */
const JUDGED_PX = 256;

interface JudgedMethod {
  readonly method: string;
  /** Expected visual error on a small picture with the tones of the photo, in L*. */
  readonly trialError: number;
}

export interface ChosenMethod {
  /** With a search its start. */
  readonly method: HalftoneMethod;
  /** Only if the piece is searched. */
  readonly search?: { readonly aim: SearchAim };
  /** Only if the method was `auto`, or a search chose its start. */
  readonly ranking?: readonly JudgedMethod[];
}

/** The chosen halftone method, or with `auto` the one that suits this photo. */
export async function methodFor(job: Job, picture: PictureOnGrid): Promise<ChosenMethod> {
  const { method } = job.options;
  if (method === "auto") {
    const methods = autoMethods(job.options);
    return methods.length > 1
      ? chooseMethod(job, picture, methods)
      : { method: findHalftoneMethod(methods[0]) };
  }
  const fitting = fittingMethod(method, job.options);
  if (!fitting.searches) return { method: fitting };
  // A drawing has no halftone to search on from.
  return job.options.kind === "solid" ? { method: findHalftoneMethod(PLAIN) } : searchFrom(job, picture);
}

/** What a search lowers if nobody says: on a steep material the nominal error alone would be too fragile. */
export const aimOf = ({ aim, material }: ResolvedOptions): SearchAim =>
  aim ?? (material.shape === "steep" ? "robust" : "nominal");

/** A search that rearranges all dots begins with rough ones; else with the method that is best for its aim, however coarse. */
async function searchFrom(job: Job, picture: PictureOnGrid): Promise<ChosenMethod> {
  const { options } = job;
  const search = { aim: aimOf(options) };
  const rough = findHalftoneMethod(ROUGH);
  if (rearranges(options, search.aim) && !misfitOf(rough, options)) return { method: rough, search };
  const methods = STARTS[search.aim].filter((id) => !misfitOf(findHalftoneMethod(id), options));
  const judging = search.aim === "nominal" ? jobWith(job, { ...options, spread: STEADY }) : job;
  const { ranking } = await chooseMethod(judging, picture, methods);
  const errors = ranking.map(({ trialError }) => trialError);
  const best = ranking[errors.indexOf(Math.min(...errors))];
  return { method: findHalftoneMethod(best.method), search, ranking };
}

const PLAIN = "floyd-steinberg";

/**
 * With many pixels in the eye's blur, a search with the nominal aim arranges all dots anew. The order that error diffusion made is
 * then in its way: begun with blue noise instead of dose feedback, pieces of 256 × 256 pixels at 402 and 508 lines per inch ended 2 to
 * 18 % lower (four photographs, two materials), and those at 254 3 to 6 % higher (gradual material). With a time limit there may be no time to arrange them.
 */
const ROUGH = "blue-noise";
const REARRANGES_PX = 4;
/** Wider spots leave a pale rim along the edges of a piece, which dose feedback mends and a search leaves as it is. */
const MOST_SPOT_PX = 4;

const rearranges = (options: ResolvedOptions, aim: SearchAim): boolean =>
  aim === "nominal" &&
  options.searchSeconds === undefined &&
  eyeWidthPx(options) >= REARRANGES_PX &&
  spotPxOf(options) <= MOST_SPOT_PX + 1e-9;

/** Where searches may begin. Clusters vary less with the dose; at the settings they only leave more to do. */
const STARTS = {
  nominal: ["dose-feedback", "ostromoukhov", "floyd-steinberg"],
  robust: autoCandidates,
} as const;

/** A machine that does not vary. */
const STEADY: Spread = { common: 0, local: 0, localLengthMm: 2, line: 0, spot: 0 };

/**
 * Choose the halftone by expected visual error on a machine that varies, on a picture with the tones of this photo: the finest
 * texture that is not noticeably worse than the best.
 */
async function chooseMethod(
  job: Job,
  picture: PictureOnGrid,
  methods: readonly string[],
): Promise<Required<Pick<ChosenMethod, "method" | "ranking">>> {
  const errors = await trialErrors(job, methods, tonesOf(job, picture));
  const ranking = methods.map((method, k) => ({ method, trialError: errors[k] }));
  const limit = Math.min(...errors) + NOT_NOTICEABLE;
  const finest = methods[errors.findIndex((error) => error <= limit)];
  return { method: findHalftoneMethod(finest), ranking };
}

/** The methods that `auto` tries in a job, finest texture first. */
export const autoMethods = ({ levels }: ResolvedOptions): readonly string[] =>
  levels === MAX_LEVELS
    ? [WITHOUT_HALFTONE]
    : autoCandidates.filter((id) => levels === 2 || findHalftoneMethod(id).takesLevels);

/** The tones of the photo, in place of the whole photo. */
function tonesOf(job: Job, picture: PictureOnGrid): TrialPicture {
  const release = job.memory.mark();
  const { frame } = picture;
  const { widthMm, heightMm } = frame;
  const area = insideOutline(frame, job.options) ?? frame.placement;
  const tones = tonesInOrder(luminanceRows(job, picture), onBitmap(area, frame, job.options), JUDGED_PX);
  release();
  return { ...tones, piece: { widthMm, heightMm } };
}

/** A part of the piece as seen, on the bitmap, which may be mirrored. */
const onBitmap = (
  area: PixelRectangle,
  { columns }: PictureOnGrid["frame"],
  { mirror }: ResolvedOptions,
): PixelRectangle => (mirror ? { ...area, left: columns - area.left - area.columns } : area);

/**
 * Throws `OPTION_METHOD_UNKNOWN`, `OPTION_METHOD_GRID` for a method that does not support the job's grid, or
 * `OPTION_METHOD_LEVELS` for a method that supports only on and off.
 */
export function fittingMethod(id: string, options: ResolvedOptions): HalftoneMethod {
  const method = findHalftoneMethod(id);
  const misfit = misfitOf(method, options);
  if (misfit) throw misfit;
  return method;
}

/** Why a method does not support a job's levels or grid; undefined if it does. */
export function misfitOf(
  halftone: HalftoneMethod,
  { levels, pitch, spot, wrap, ringColumns }: ResolvedOptions,
): SpotpitchError | undefined {
  const ofLevels = levelsMisfit(halftone, levels, halftoneMethods);
  if (ofLevels) return ofLevels;
  const { id: method, ...needs } = halftone;
  const received = { received: method };
  if (needs.flatOnly && wrap && (ringColumns > 0 || isCone(wrap))) {
    return refusal("method-flat-only", { method }, received);
  }
  const spotPx = spotPxOf({ spot, pitch });
  if (needs.maxSpotPx !== undefined && spotPx > needs.maxSpotPx) {
    return refusal("method-spot-too-wide", { method, maxPx: needs.maxSpotPx, spotPx }, received);
  }
  if (!needs.pitchRatio) return undefined;
  const [min, max] = needs.pitchRatio;
  const ratio = pitch.acrossMm / pitch.alongMm;
  if (ratio >= min && ratio <= max) return undefined;
  const linesPerInchAlong = (linesPerInchFromPitchMm(pitch.acrossMm) * (min + max)) / 2;
  return refusal("method-grid", { method, min, max, ratio, linesPerInchAlong }, received);
}

const spotPxOf = ({ spot, pitch }: Pick<ResolvedOptions, "spot" | "pitch">): number =>
  Math.max(spot.acrossMm / pitch.acrossMm, spot.alongMm / pitch.alongMm);
