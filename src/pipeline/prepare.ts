import { availableParallelism } from "node:os";
import { type BegunPhoto, beginDecoding } from "../1-photo/decode.js";
import type { HalftoneMethod } from "../4-halftone/method.js";
import type { ByteSink } from "../6-report/files/deflate.js";
import { encodePreviewPng } from "../6-report/files/preview-png.js";
import type { Report } from "../6-report/report.js";
import { SpotpitchError } from "../core/errors.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { type PackedBitmap, unpackBitmap } from "../core/packed-bits.js";
import { type Bitmap, plane } from "../core/plane.js";
import type { CodeRows } from "../core/plane-rows.js";
import {
  type PrepareOptions,
  type ResolvedOptions,
  resolveOptions,
  type SettledOptions,
} from "../options/options.js";
import { frameArtwork, placePiece } from "./burn/artwork.js";
import { type CurveStore, isCompensated, keptCurve } from "./burn/burn-curve.js";
import { type Burner, compensatedBurner, plainBurner } from "./burn/burn-rows.js";
import { type BurnStage, createBurnStage } from "./burn/burn-stage.js";
import { startBurnThread, threadsAvailable } from "./burn/burn-thread.js";
import { fittingMethod, methodFor } from "./burn/choose-method.js";
import { halftonePiece } from "./burn/halftone-piece.js";
import { describePiece } from "./describe/describe-piece.js";
import { createPageDraft } from "./describe/page-draft.js";
import { type BurnModel, createBurnModel } from "./job.js";
import { judgePiece, type PieceErrors } from "./judge/judge-piece.js";
import { levelSteps, onOffTones } from "./judge/level-facts.js";
import { toneCounts } from "./judge/tone-counts.js";
import { framePhoto, luminanceRows } from "./photo/luminance.js";
import { checkPlaces, decodeHints, frameOf, worthAThread } from "./photo/piece-size.js";
import { seamStep } from "./photo/seam.js";
import { settleKind } from "./photo/settle-kind.js";
import { shownPhoto } from "./photo/shown-photo.js";

/** Steps of a preparation, in order, as told to `onProgress`. */
export type Stage = "decode" | "tone" | "method" | "halftone" | "predict" | "tones" | "write";

/** What `prepare` may be told beside its options. */
export interface PrepareContext {
  /** Shown in the report and in messages; never opened. */
  readonly fileName?: string;
  readonly onProgress?: (stage: Stage) => void;
  /** Keeps tone curves from one call to the next. */
  readonly curves?: CurveStore;
  /** Threads to use, at most; more than two are of no use. Default: as many as the computer runs at once. */
  readonly threads?: number;
}

/** Where the files of a piece go, piece by piece, in order. */
export interface PieceSinks {
  readonly burn: ByteSink;
  /** Not called with `bitmapOnly`; not drawn where it is left out. */
  readonly preview?: ByteSink;
  /** The report as a page. Not called with `bitmapOnly`; not drawn where it is left out. */
  readonly reportPage?: ByteSink;
}

/** A photo ready to burn. */
export interface PreparedPiece {
  /** 1 = burn, with more power levels 0..levels − 1; one byte a pixel, pitch and shape as in the report. */
  readonly bitmap: Bitmap;
  /** The bitmap as a file of the format asked for. */
  readonly burnFile: Uint8Array;
  /** A PNG of the predicted piece in the material's colours; absent with `bitmapOnly`. */
  readonly previewFile?: Uint8Array;
  readonly report: Report;
  /** The report as one HTML file, UTF-8, with pictures and plots inside; absent with `bitmapOnly`. */
  readonly reportPage?: Uint8Array;
}

/**
 * One photo to an engraving bitmap, a preview and a density report, from buffers to buffers.
 *
 *     photo → tone → resample → target → compensate → halftone → predict → report
 *     drawing → ink → coverage → edges placed for the mark → predict → report
 *
 * @param photo a JPEG, PNG, WebP, TIFF, AVIF, GIF or SVG file's bytes; not modified
 * @throws SpotpitchError with an `OPTION_*` code for a bad option, `INPUT_*` for a photo that cannot be used
 */
export async function prepare(
  photo: Uint8Array,
  options: PrepareOptions = {},
  context: PrepareContext = {},
): Promise<PreparedPiece> {
  const burn: Uint8Array[] = [];
  const preview: Uint8Array[] = [];
  const page: Uint8Array[] = [];
  const collect = (to: Uint8Array[]) => (bytes: Uint8Array) => {
    to.push(bytes);
  };
  const sinks = { burn: collect(burn), preview: collect(preview), reportPage: collect(page) };
  const { report, packed } = await makePiece(photo, options, sinks, context, true);
  if (!packed) throw new SpotpitchError("INTERNAL", "The bitmap was not kept.");
  const { pitchAlongMm: alongMm, pitchAcrossMm: acrossMm, rows, columns } = report.job;
  return {
    bitmap: plane("bitmap", unpackBitmap(packed), rows, columns, { alongMm, acrossMm }),
    burnFile: Buffer.concat(burn),
    ...(preview.length > 0 && { previewFile: Buffer.concat(preview) }),
    report,
    ...(page.length > 0 && { reportPage: Buffer.concat(page) }),
  };
}

/**
 * The same, writing the files as they come into being. Rows stream from the decoded photo to the file: beside the photo, and
 * with a prediction the bitmap (at one bit a pixel, or a byte with power levels), nothing grows with the piece. A drawing (SVG) is
 * the exception: it is rendered as finely as the grid first.
 */
export async function prepareTo(
  photo: Uint8Array | BegunPhoto,
  options: PrepareOptions,
  sinks: PieceSinks,
  context: PrepareContext = {},
): Promise<Report> {
  return (await makePiece(photo, options, sinks, context, false)).report;
}

/** A report, and what it took to make it. */
export interface MadePiece {
  readonly report: Report;
  /** Where it was wanted. */
  readonly packed: PackedBitmap | undefined;
  /** Not with `bitmapOnly`. */
  readonly finished?: FinishedPiece;
}

/** A piece that has been judged, with all that a closer look takes. */
export interface FinishedPiece {
  readonly memory: KernelMemory;
  readonly model: BurnModel;
  readonly options: SettledOptions;
  readonly method: HalftoneMethod;
  readonly burner: Burner;
  readonly bitmap: PackedBitmap;
  /** The photo's luminance on the grid. */
  readonly codes: CodeRows;
  readonly errors: PieceErrors;
}

/** What `prepare` and `prepareTo` do. */
export async function makePiece(
  photo: Uint8Array | BegunPhoto,
  options: PrepareOptions,
  sinks: PieceSinks,
  context: PrepareContext,
  keepBitmap: boolean,
): Promise<MadePiece> {
  const checked = resolveOptions(options);
  const asked = checked.method === "auto" ? undefined : fittingMethod(checked.method, checked);
  const progress = context.onProgress ?? (() => {});
  progress("decode");
  const decoding =
    photo instanceof Uint8Array ? await beginDecoding(photo, decodeHints(checked, context)) : photo;
  if (decoding.facts) checkPlaces(decoding.facts, checked);

  const memory = createKernelMemory();
  const threads = context.threads ?? availableParallelism();
  const apart = threads > 1 && threadsAvailable && worthAThread(checked);
  const stage = apart ? startBurnThread(checked, memory) : createBurnStage(checked, memory);
  try {
    // What needs nothing of the photo is done while the decoder works on other threads.
    const early = createBurnModel(checked, memory);
    const known = asked && (await burnerFor(stage, early, asked, checked, context.curves));
    const source = await decoding.photo;
    const frame = frameOf(source, checked);
    const shown = await shownPhoto(source, checked);
    const { resolved, ...kind } = settleKind(checked, shown);
    // A drawing that was told only now mixes its edges in luminance.
    const model = resolved.toneMap === checked.toneMap ? early : createBurnModel(resolved, memory);

    progress("tone");
    const bare = model.response.darkens ? 1 : 0;
    const drawing = resolved.kind === "solid" ? frameArtwork(shown, frame, resolved, bare) : undefined;
    const framed = drawing ?? framePhoto(shown, frame, resolved, bare);

    if (resolved.method === "auto") progress("method");
    const { method, ranking } = methodFor(memory, model, framed, resolved);
    progress("halftone");
    const burner = known ?? (await burnerFor(stage, model, method, resolved, context.curves));
    await stage.begin(method.id, frame, keepBitmap || !resolved.bitmapOnly, sinks.burn);
    const page =
      sinks.reportPage && !resolved.bitmapOnly
        ? createPageDraft(memory, model, frame, resolved, stage)
        : undefined;
    const placed = drawing && resolved.compensate;
    const edges = placed ? await placePiece(memory, model, drawing, resolved, stage) : undefined;
    if (placed) page?.look(luminanceRows(framed, resolved, memory));
    else await halftonePiece(memory, model, burner, framed, resolved, stage, page?.watch);
    const burned = await stage.end();
    const compensated = burner.compensated || edges !== undefined;
    const { fileName = "" } = context;
    const seam = seamStep(framed);
    const steps = resolved.levels > 2 ? levelSteps(memory, model, resolved.doseSpread) : undefined;
    const negativeIdle = drawing?.negativeIdle ?? false;
    const made = { method, ranking, compensated, edges, burned, seam, steps, negativeIdle };
    const facts = { fileName, source, frame, kind, ...made };
    if (!burned.bitmap || resolved.bitmapOnly) {
      progress("write");
      return { report: describePiece(model, facts, resolved), packed: burned.bitmap };
    }
    progress("predict");
    // What the other half can do meanwhile it is asked for first.
    const picturing = sinks.preview || page ? stage.pictures(page !== undefined) : undefined;
    picturing?.catch(() => {}); // told when they are needed
    page?.begin(method.id, burner.curve);
    const codes = luminanceRows(framed, resolved, memory);
    const errors = judgePiece(memory, model, burned.bitmap, codes, method, resolved);
    progress("tones");
    const tones = drawing ? undefined : toneCounts(memory, model, burner.burnFor, method, resolved);
    const onOff =
      resolved.levels > 2 ? await onOffTones(memory, method, framed, resolved, context.curves) : undefined;
    const report = describePiece(model, { ...facts, onOff }, resolved, errors, tones);
    progress("write");
    const pictures = await picturing;
    const [preview, text] = await Promise.all([
      pictures && sinks.preview && encodePreviewPng(pictures.preview),
      pictures && page?.finish(report, pictures),
    ]);
    if (preview) await sinks.preview?.(preview);
    if (text) await sinks.reportPage?.(text);
    const { bitmap } = burned;
    const finished = { memory, model, options: resolved, method, burner, bitmap, codes, errors };
    return { report, packed: bitmap, finished };
  } finally {
    stage.close();
  }
}

async function burnerFor(
  stage: BurnStage,
  model: BurnModel,
  method: HalftoneMethod,
  options: ResolvedOptions,
  curves?: CurveStore,
): Promise<Burner> {
  if (!isCompensated(method, options)) return plainBurner(model, method);
  const curve = await keptCurve(method, options, curves, () => stage.measureCurve(method.id));
  return compensatedBurner(model, method, curve);
}
