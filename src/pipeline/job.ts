import type { HalftoneMethod, HalftoneSettings } from "../4-halftone/method.js";
import { patchHalftone } from "../4-halftone/patch-halftone.js";
import type { HalftoneFunction } from "../5-burn/flat-patch.js";
import { createSurfaceModel } from "../5-burn/surface-model.js";
import { SpotpitchError } from "../core/errors.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions, SettledOptions } from "../options/options.js";
import { type BurnModel, createBurnModel } from "./burn-model.js";
import type { CurveStore } from "./kept-tables.js";

/** What every step of a piece works with. */
export interface Job<Options extends ResolvedOptions = ResolvedOptions> {
  readonly options: Options;
  readonly memory: KernelMemory;
  /** Made when it is first asked for. */
  readonly model: BurnModel;
  readonly curves: CurveStore | undefined;
}

/** A job that knows what kind of picture it has. */
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
    get model() {
      model ??= createBurnModel(options, memory);
      return model;
    },
  };
}

/** The same job with other options. Its model stays where tones are asked for as before. */
export function jobWith<Options extends ResolvedOptions>(job: Job, options: Options): Job<Options> {
  const { memory, curves, options: before } = job;
  const sameModel = options.toneMap === before.toneMap && options.levels === before.levels;
  return sameModel ? { options, memory, curves, model: job.model } : createJob(options, memory, curves);
}

/** @param modelOf asked only by a method that needs to know the surface */
export function halftoneSettings(
  options: ResolvedOptions,
  modelOf: () => BurnModel = unknownSurface,
): HalftoneSettings {
  return {
    pitch: options.pitch,
    spot: options.spot,
    scan: options.scan,
    seed: options.seed,
    screenLinesPerInch: options.screenLinesPerInch,
    screenAngleDeg: options.screenAngleDeg,
    clumping: options.clumping,
    levels: options.levels,
    ringColumns: options.ringColumns,
    surface() {
      const { response, bare, solid } = modelOf();
      return createSurfaceModel(options.pitch, options.spot, options.motion, response, bare, solid);
    },
  };
}

function unknownSurface(): never {
  throw new SpotpitchError("INTERNAL", "A halftone asked for a surface that it was not told of.");
}

/** A halftone method bound to a job's settings, as the burn stage wants it. */
export function halftoneFunction(method: HalftoneMethod, job: Job): HalftoneFunction {
  return patchHalftone(
    method,
    halftoneSettings(job.options, () => job.model),
    job.memory,
  );
}
