import { decodePhoto, type Photo } from "../1-photo/decode.js";
import { type Frame, frameJob } from "../3-resample/frame.js";
import { findHalftoneMethod } from "../4-halftone/halftone.js";
import type { HalftoneMethod } from "../4-halftone/method.js";
import { encodeBitmap } from "../6-report/bitmap-file.js";
import type { Report } from "../6-report/report.js";
import { SpotpitchError } from "../core/errors.js";
import { MOST_PIXELS, type PrepareOptions, type ResolvedOptions, resolveOptions } from "../core/options.js";
import { type Bitmap, columnsOf, type Plane, plane, rowsOf } from "../core/plane.js";
import { mapTabulated } from "../core/tabulated.js";
import { linesPerInchFromPitchMm } from "../core/units.js";
import { chooseMethod } from "./choose-method.js";
import { describePiece, toneCounts } from "./describe-piece.js";
import { compensatedBurner, createBurnModel, halftoneFunction, plainBurner } from "./job.js";
import { keepBare } from "./keep-bare.js";
import { luminanceOnGrid, mirrorRows } from "./luminance.js";
import { predictPiece } from "./predict-piece.js";
import { renderPreview } from "./render-preview.js";

/** Steps of a preparation, in order, as told to `onProgress`. */
export type Stage = "decode" | "tone" | "method" | "halftone" | "predict" | "tones" | "write";

export interface PrepareContext {
  /** Shown in the report and in messages; never opened. */
  readonly fileName?: string;
  readonly onProgress?: (stage: Stage) => void;
}

/** A photo ready to burn. */
export interface PreparedPiece {
  /** 1 = burn; pitch and shape as in the report. */
  readonly bitmap: Bitmap;
  /** Luminance factors that the photo asks for, on the bitmap's grid (mirrored if the bitmap is). */
  readonly wanted: Plane<"luminance-factor">;
  /** Luminance factors that the piece will have, on the same grid; absent with `bitmapOnly`. */
  readonly predicted?: Plane<"luminance-factor">;
  /** The bitmap as a file of the format asked for. */
  readonly burnFile: Uint8Array;
  /** A PNG of the predicted piece in the material's colours; absent with `bitmapOnly`. */
  readonly previewFile?: Uint8Array;
  readonly report: Report;
}

/**
 * One photo to an engraving bitmap, a preview and a density report, from buffers to buffers.
 *
 *     photo → tone → resample → target → compensate → halftone → predict → report
 *
 * @param photo a JPEG, PNG, WebP, TIFF, AVIF, GIF or SVG file's bytes; not modified
 * @throws SpotpitchError with an `OPTION_*` code for a bad option, `INPUT_*` for a photo that cannot be used
 */
export async function prepare(
  photo: Uint8Array,
  options: PrepareOptions = {},
  context: PrepareContext = {},
): Promise<PreparedPiece> {
  const resolved = resolveOptions(options);
  const chosen = resolved.method === "auto" ? undefined : fittingMethod(resolved.method, resolved);
  const progress = context.onProgress ?? (() => {});

  progress("decode");
  const source = await decodePhoto(photo, decodeHints(resolved, context));
  const frame = frameOf(source, resolved);
  const { columns, rows } = frame;

  progress("tone");
  const model = createBurnModel(resolved);
  const luminance = luminanceOnGrid(source, frame, resolved, model.response.darkens ? 1 : 0);
  if (resolved.mirror) mirrorRows(luminance, columns);
  const wanted = mapTabulated(model.target, luminance, luminance);

  let method = chosen;
  let ranking: Report["methodRanking"];
  if (method === undefined) {
    progress("method");
    ({ method, ranking } = chooseMethod(model, wanted, columns, rows, resolved));
  }
  progress("halftone");
  const halftone = halftoneFunction(method, resolved);
  // A plain threshold has two tones and no curve to invert: it already lies half-way between bare and burned.
  const compensated = resolved.compensate && method.family !== "threshold";
  const burner = compensated ? compensatedBurner(model, halftone, resolved) : plainBurner(model);
  const bits = keepBare(halftone(burner.fractions(wanted, columns, rows), columns, rows), wanted, model.bare);
  const bitmap = plane("bitmap", bits, rows, columns, resolved.pitch);
  const onGrid = (data: Float32Array) => plane("luminance-factor", data, rows, columns, resolved.pitch);
  const facts = { fileName: context.fileName ?? "", source, frame, method, ranking, compensated };

  if (resolved.bitmapOnly) {
    progress("write");
    const report = describePiece(model, bits, facts, resolved);
    return { bitmap, wanted: onGrid(wanted), burnFile: await encodeBitmap(bitmap, resolved.format), report };
  }
  progress("predict");
  const prediction = predictPiece(model, bits, wanted, columns, rows, halftone, resolved);
  progress("tones");
  const tones = toneCounts(model, burner, halftone, resolved);
  progress("write");
  const report = describePiece(model, bits, facts, resolved, prediction, tones);
  return {
    bitmap,
    wanted: onGrid(wanted),
    predicted: onGrid(prediction.luminance),
    burnFile: await encodeBitmap(bitmap, resolved.format),
    previewFile: await renderPreview(model, prediction, bits, frame, resolved),
    report,
  };
}

/** Throws `OPTION_METHOD_UNKNOWN`, or `OPTION_METHOD_GRID` for a method made for another grid than the job's. */
function fittingMethod(id: string, { pitch }: ResolvedOptions): HalftoneMethod {
  const method = findHalftoneMethod(id);
  if (!method.pitchRatio) return method;
  const [least, most] = method.pitchRatio;
  const ratio = pitch.acrossMm / pitch.alongMm;
  if (ratio >= least && ratio <= most) return method;
  throw new SpotpitchError(
    "OPTION_METHOD_GRID",
    `method ${id} needs lines ${least.toFixed(2)} to ${most.toFixed(2)} times as far apart as the pixels along them; here it is ${ratio.toFixed(2)}. Set the density along the lines to about ${Math.round((linesPerInchFromPitchMm(pitch.acrossMm) * (least + most)) / 2)} per inch.`,
    { option: "method", received: id },
  );
}

function frameOf(source: Photo, options: ResolvedOptions): Frame {
  const sourceColumns = columnsOf(source.luminance);
  const sourceRows = rowsOf(source.luminance);
  const frame = frameJob({
    sourceColumns,
    sourceRows,
    ...sizeAsked(sourceColumns, sourceRows, options),
    fit: options.fit,
    pitch: options.pitch,
  });
  if (frame.columns * frame.rows > MOST_PIXELS) {
    throw new SpotpitchError(
      "OPTION_TOO_LARGE",
      `This size at this density makes ${frame.columns} × ${frame.rows} pixels; at most ${MOST_PIXELS / 1e6} million are handled. Choose a lower density or a smaller piece.`,
      { option: "linesPerInch" },
    );
  }
  return frame;
}

/** Longer side of a piece whose size nobody gave, in mm. */
const DEFAULT_LONGER_SIDE_MM = 100;

function sizeAsked(sourceColumns: number, sourceRows: number, { widthMm, heightMm }: ResolvedOptions) {
  if (widthMm !== undefined || heightMm !== undefined) return { widthMm, heightMm };
  return sourceColumns >= sourceRows
    ? { widthMm: DEFAULT_LONGER_SIDE_MM }
    : { heightMm: DEFAULT_LONGER_SIDE_MM };
}

/** How large a drawing without pixels of its own should be rendered. */
function decodeHints({ widthMm, heightMm, pitch }: ResolvedOptions, { fileName }: PrepareContext) {
  const asked = widthMm === undefined && heightMm === undefined ? DEFAULT_LONGER_SIDE_MM : undefined;
  const columnsMm = widthMm ?? asked;
  const rowsMm = heightMm ?? asked;
  return {
    ...(fileName === undefined ? {} : { fileName }),
    ...(columnsMm === undefined ? {} : { minimumColumns: Math.ceil(columnsMm / pitch.alongMm) }),
    ...(rowsMm === undefined ? {} : { minimumRows: Math.ceil(rowsMm / pitch.acrossMm) }),
  };
}
