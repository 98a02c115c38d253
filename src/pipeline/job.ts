import type { HalftoneMethod, HalftoneSettings } from "../4-halftone/method.js";
import { patchHalftone } from "../4-halftone/patch-halftone.js";
import type { HalftoneFunction } from "../5-burn/flat-patch.js";
import { createSurfaceModel } from "../5-burn/surface-model.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions, SettledOptions } from "../options/options.js";
import { type BurnModel, createBurnModel } from "./burn-model.js";
import type { CurveStore } from "./kept-tables.js";

/** The shared context of all steps of a piece. */
export interface Job<Options extends ResolvedOptions = ResolvedOptions> {
  readonly options: Options;
  readonly memory: KernelMemory;
  /** Made on first use. */
  readonly model: BurnModel;
  readonly curves: CurveStore | undefined;
  /** Grown tiles of clustered dots. */
  readonly tiles: NonNullable<HalftoneSettings["tiles"]>;
}

/** A job whose kind of picture is known. */
export type SettledJob = Job<SettledOptions>;

export function createJob<Options extends ResolvedOptions>(
  options: Options,
  memory: KernelMemory = createKernelMemory(),
  curves?: CurveStore,
): Job<Options> {
  let model: BurnModel | undefined;
  return {
    options,
    memory,
    curves,
    tiles: new Map(),
    get model() {
      model ??= createBurnModel(options, memory);
      return model;
    },
  };
}

/** The options that the model depends on. */
const MODEL_OPTIONS = ["pitch", "spot", "motion", "material", "toneMap", "levels"] as const;

/** The same job with other options. It keeps the model if none of the model's options change. */
export function jobWith<Options extends ResolvedOptions>(job: Job, options: Options): Job<Options> {
  const { memory, curves, tiles, options: before } = job;
  const sameModel = MODEL_OPTIONS.every((name) => options[name] === before[name]);
  return sameModel
    ? { options, memory, curves, tiles, model: job.model }
    : createJob(options, memory, curves);
}

/** The settings of a job for a halftone method. Only a method that needs the surface makes the model. */
export function halftoneSettings(job: Job): HalftoneSettings {
  const { pitch, spot, motion, scan, seed, screenLinesPerInch, screenAngleDeg } = job.options;
  const { clumping, levels, ringColumns } = job.options;
  return {
    ...{ pitch, spot, scan, seed, screenLinesPerInch, screenAngleDeg, clumping, levels, ringColumns },
    tiles: job.tiles,
    surface() {
      const { response, bare, solid } = job.model;
      return createSurfaceModel({ pitch, spot, motion }, response, { bare, solid }, scan);
    },
  };
}

/** A halftone method bound to a job's settings. */
export const halftoneFunction = (method: HalftoneMethod, job: Job): HalftoneFunction =>
  patchHalftone(method, halftoneSettings(job), job.memory);
