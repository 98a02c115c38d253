import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import type { CountEffort } from "../../5-burn/tonal-resolution.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../../options/options.js";
import { type CurveEffort, halftoneDepends } from "../../pipeline/burn/burn-curve.js";
import { trialRule } from "../../pipeline/burn/burn-rule.js";
import { autoMethods } from "../../pipeline/burn/choose-method.js";
import { type TrialPicture, trialErrors } from "../../pipeline/burn/method-trials.js";
import { createJob, type Job } from "../../pipeline/job.js";
import { toneCounts } from "../../pipeline/judge/tone-counts.js";
import { keptTable } from "../../pipeline/kept-tables.js";
import { luminanceRows, photoOnGrid } from "../../pipeline/photo/luminance.js";
import { frameOf } from "../../pipeline/photo/piece-size.js";
import type { LaneContext } from "../lanes.js";
import { tonalTarget } from "./tonal-target.js";
import { type DensityTrial, usefulTones } from "./useful-tones.js";

/** What a density is worth depends on these options, and not on the picture or its place. */
export const DEPENDS = [
  ...(["material", "spotMm", "linesPerInch", "linesPerInchAlong"] as const),
  ...(["method", "levels", "scan", "seed", "screenLinesPerInch", "screenAngleDeg", "clumping"] as const),
  ...(["toneMap", "compensate", "speedMmPerS", "firingLagUs", "firingLossUs", "lineShiftMm"] as const),
  ...(["oneWay", "doseSpread", "spread", "viewDistanceMm"] as const),
] satisfies readonly (keyof PrepareOptions)[];

/** Side of the built-in picture of a trial: one ramp with all tones, between these limits in pixels. */
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
  const methods = triedMethods(resolved);
  const { toneMap, compensate, spread, viewDistanceMm } = resolved;
  const depends = {
    densityTrial: { CURVE, COUNT, SIDE_SPOTS, PIECE_MM },
    ...halftoneDepends(resolved),
    ...{ methods, toneMap, compensate, spread, viewDistanceMm },
  };
  const table = await keptTable(curves, depends, ["detailMm", "useful"], () => measure(resolved, methods));
  return {
    linesPerInch: linesPerInchFromPitchMm(resolved.pitch.acrossMm),
    tones: Array.from(table.detailMm, (detailMm, k) => ({ detailMm, useful: table.useful[k] })),
  };
}

async function measure(
  options: ResolvedOptions,
  methods: readonly string[],
): Promise<Record<"detailMm" | "useful", Float64Array>> {
  // Curves of this roughness serve nobody else: they are kept for this trial only.
  const job = createJob(options, createKernelMemory(), new Map());
  const errors = await trialErrors(job, methods, builtInPicture(job), CURVE);
  const counted = await Promise.all(
    methods.map(async (id, k) => {
      const method = findHalftoneMethod(id);
      const tones = await toneCounts(job, method, await trialRule(job, method, CURVE), COUNT);
      return tones.map(({ detailMm, held }) => ({ detailMm, useful: usefulTones(held, errors[k]) }));
    }),
  );
  const best = (side: number): number => Math.max(...counted.map((tones) => tones[side].useful));
  return {
    detailMm: Float64Array.from(counted[0], ({ detailMm }) => detailMm),
    useful: Float64Array.from(counted[0], (_, side) => best(side)),
  };
}

/** The built-in picture on the grid of a trial. */
function builtInPicture(job: Job): TrialPicture {
  const { options } = job;
  const photo = tonalTarget(options.widthMm ?? 0, options.heightMm ?? 0, meanOf(options.spot), MAX_SIDE_PX);
  const frame = frameOf(photo, options);
  const { columns, rows } = frame;
  const rowOf = luminanceRows(job, photoOnGrid(photo, frame, options));
  const codes = new Uint16Array(columns * rows);
  for (let y = 0; y < rows; y++) codes.set(rowOf(y), y * columns);
  return { codes, columns, rows, piece: { widthMm: PIECE_MM, heightMm: PIECE_MM } };
}

/** The named method, or one of each texture that `auto` tries: floyd-steinberg counts like ostromoukhov within 5 %. */
function triedMethods(options: ResolvedOptions): readonly string[] {
  if (options.method !== "auto") return [options.method];
  return autoMethods(options).filter((id) => id !== "floyd-steinberg");
}

/** The options that a trial depends on. */
export const withoutPicture = (options: PrepareOptions): PrepareOptions =>
  Object.fromEntries(DEPENDS.map((name) => [name, options[name]]));

/** Options of a trial, with a size of its own. */
function trialOptions(options: PrepareOptions): ResolvedOptions {
  const own = withoutPicture(options);
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
