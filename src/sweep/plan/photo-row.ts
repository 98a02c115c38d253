import type { Photo } from "../../1-photo/decode.js";
import type { Frame } from "../../3-resample/frame.js";
import { createHalftoneStream } from "../../4-halftone/halftone-stream.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import type { RunTime } from "../../5-burn/run-time.js";
import type { PlanRow } from "../../6-report/plan.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { bytesPerRow, type PackedBitmap } from "../../core/packed-bits.js";
import type { ResolvedOptions } from "../../options/options.js";
import { isCompensated, measureCurve } from "../../pipeline/burn/burn-curve.js";
import { type Burner, compensatedBurner, plainBurner } from "../../pipeline/burn/burn-rows.js";
import { bandRowsFor } from "../../pipeline/burn/burn-stage.js";
import { createBurnedBands } from "../../pipeline/burn/burned-bands.js";
import { methodFor } from "../../pipeline/burn/choose-method.js";
import { halftonePiece } from "../../pipeline/burn/halftone-piece.js";
import { type BurnModel, createBurnModel, halftoneSettings } from "../../pipeline/job.js";
import { judgePiece } from "../../pipeline/judge/judge-piece.js";
import { toneCounts } from "../../pipeline/judge/tone-counts.js";
import { type FramedPhoto, framePhoto, luminanceRows } from "../../pipeline/photo/luminance.js";

/** What a photo's row has beyond that of any work. */
export interface PhotoRow {
  readonly runTime: RunTime;
  readonly parts: Required<
    Pick<
      PlanRow,
      | "method"
      | "tonalResolution"
      | "visualErrorRms"
      | "visualErrorBias"
      | "expectedVisualError"
      | "judgedShare"
    >
  >;
}

/**
 * Prepare a photo at one density, as `prepare` does it, but for the files: the whole bitmap for its run time, flat patches
 * for its tones, and its visual error as `judgePiece` measures it.
 */
export async function photoRow(
  memory: KernelMemory,
  source: Photo,
  frame: Frame,
  options: ResolvedOptions,
): Promise<PhotoRow> {
  const release = memory.mark();
  const model = createBurnModel(options, memory);
  const framed = framePhoto(source, frame, options, model.response.darkens ? 1 : 0);
  const { method } = methodFor(memory, model, framed, options);
  const burner = isCompensated(method, options)
    ? compensatedBurner(model, method, measureCurve(memory, model, method, options))
    : plainBurner(model, method);
  const { bitmap, runTime } = await burnWhole(memory, model, burner, framed, method, options);
  const codes = luminanceRows(framed, options, memory);
  const errors = judgePiece(memory, model, bitmap, codes, method, options);
  const tonalResolution = toneCounts(memory, model, burner.burnFor, method, options);
  release();
  return {
    runTime,
    parts: {
      method: method.id,
      tonalResolution,
      visualErrorRms: errors.nominal.rms,
      visualErrorBias: errors.nominal.bias,
      expectedVisualError: errors.expectedVisualError,
      judgedShare: errors.judgedShare,
    },
  };
}

async function burnWhole(
  memory: KernelMemory,
  model: BurnModel,
  burner: Burner,
  framed: FramedPhoto,
  method: HalftoneMethod,
  options: ResolvedOptions,
): Promise<{ readonly bitmap: PackedBitmap; readonly runTime: RunTime }> {
  const { columns, rows } = framed.frame;
  const release = memory.mark();
  const { levels } = options;
  const stride = bytesPerRow(columns, levels);
  const bitmap = { columns, rows, levels, stride, bytes: new Uint8Array(stride * rows) };
  const { timer, emit } = createBurnedBands(framed.frame, options, (packed, y) =>
    bitmap.bytes.set(packed, y * stride),
  );
  const settings = halftoneSettings(options, () => model);
  const bandRows = bandRowsFor(columns);
  const stream = createHalftoneStream(method, { columns, rows, bandRows }, settings, emit, memory);
  await halftonePiece(memory, model, burner, framed, options, {
    room: async () => stream.fractions,
    band: async (count) => stream.push(count),
  });
  release();
  return { bitmap, runTime: timer.runTime() };
}
