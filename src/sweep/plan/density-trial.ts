import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import type { CountEffort } from "../../5-burn/tonal-resolution.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../../options/options.js";
import type { CurveEffort } from "../../pipeline/burn/burn-curve.js";
import { trialRule } from "../../pipeline/burn/burn-rule.js";
import { autoMethods } from "../../pipeline/burn/choose-method.js";
import { cropOf, trialErrors } from "../../pipeline/burn/method-trials.js";
import { createJob } from "../../pipeline/job.js";
import { toneCounts } from "../../pipeline/judge/tone-counts.js";
import { luminanceRows, photoOnGrid } from "../../pipeline/photo/luminance.js";
import { frameOf } from "../../pipeline/photo/piece-size.js";
import type { LaneContext } from "../lanes.js";
import { tonalTarget } from "./tonal-target.js";
import { type DensityTrial, usefulTones } from "./useful-tones.js";

/** What a density is worth depends on these options, and not on the picture or its place. */
const DEPENDS = [
  ...(["material", "spotMm", "linesPerInch", "linesPerInchAlong"] as const),
  ...(["method", "levels", "scan", "seed", "screenLinesPerInch", "screenAngleDeg", "clumping"] as const),
  ...(["toneMap", "compensate", "speedMmPerS", "firingLagUs", "firingLossUs", "lineShiftMm"] as const),
  ...(["oneWay", "doseSpread", "spread", "viewDistanceMm"] as const),
] satisfies readonly (keyof PrepareOptions)[];

/** Side of the tried part of the built-in picture: one ramp with all tones, between these limits in pixels. */
const SIDE_SPOTS = 60;
const MIN_SIDE_PX = 128;
const MAX_SIDE_PX = 256;

/** Rough measurements will do: the curve over all densities evens them out. */
const CURVE = { patches: 33, sidePx: 48, marginPx: 16 } satisfies CurveEffort;
const COUNT = { tones: 17, patchMm: 4 } satisfies CountEffort;

/** A piece of this side is assumed when the eye's share of random variation is computed. */
const PIECE_MM = 100;

/**
 * Try a density on a built-in picture: useful tones of the halftone that is best there, for each size of detail. Neither the photo
 * nor a change of halftone from one density to the next makes the figures jump.
 *
 * @param options with density and spot; size, place and tones of the picture are ignored
 */
export async function tryDensity(options: PrepareOptions, { curves }: LaneContext): Promise<DensityTrial> {
  const resolved = trialOptions(options);
  const { pitch, spot } = resolved;
  const job = createJob(resolved, createKernelMemory(), curves ?? new Map());
  const photo = tonalTarget(resolved.widthMm ?? 0, resolved.heightMm ?? 0, meanOf(spot), MAX_SIDE_PX);
  const frame = frameOf(photo, resolved);
  const { columns, rows } = frame;
  const codes = luminanceRows(job, photoOnGrid(photo, frame, resolved));
  const piece = { widthMm: PIECE_MM, heightMm: PIECE_MM };
  const crop = cropOf(codes, { left: 0, top: 0, columns, rows }, piece);
  const methods = triedMethods(resolved);
  const errors = await trialErrors(job, methods, crop, CURVE);
  const useful: DensityTrial["tones"][] = [];
  for (const [k, id] of methods.entries()) {
    const method = findHalftoneMethod(id);
    const tones = await toneCounts(job, method, await trialRule(job, method, CURVE), COUNT);
    useful.push(tones.map(({ detailMm, held }) => ({ detailMm, useful: usefulTones(held, errors[k]) })));
  }
  return {
    linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
    tones: useful[0].map(({ detailMm }, k) => ({
      detailMm,
      useful: Math.max(...useful.map((tones) => tones[k].useful)),
    })),
  };
}

/** The named method, or one of each texture that `auto` tries: floyd-steinberg counts like ostromoukhov within 5 %. */
function triedMethods(options: ResolvedOptions): readonly string[] {
  if (options.method !== "auto") return [options.method];
  return autoMethods(options).filter((id) => id !== "floyd-steinberg");
}

/** Options of a trial, with a size of its own. */
export function trialOptions(options: PrepareOptions): ResolvedOptions {
  const own = Object.fromEntries(DEPENDS.map((name) => [name, options[name]]));
  const { spot, pitch } = resolveOptions(own);
  const sideMm = (pitchMm: number): number =>
    pitchMm * Math.min(MAX_SIDE_PX, Math.max(MIN_SIDE_PX, Math.ceil((SIDE_SPOTS * meanOf(spot)) / pitchMm)));
  return resolveOptions({
    ...own,
    ...{ kind: "photo", autoTone: false, fit: "stretch" },
    widthMm: sideMm(pitch.alongMm),
    heightMm: sideMm(pitch.acrossMm),
  });
}

const meanOf = ({ alongMm, acrossMm }: ResolvedOptions["spot"]): number => Math.sqrt(alongMm * acrossMm);
