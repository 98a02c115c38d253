import type { BegunPhoto } from "../1-photo/decode.js";
import type { Report } from "../6-report/report.js";
import { unpackBitmap } from "../core/packed-bits.js";
import { type Bitmap, plane } from "../core/plane.js";
import { refusal } from "../core/refusals/refusals.js";
import type { PrepareOptions } from "../options/options.js";
import { makePiece, type PieceSinks, type PrepareContext } from "./make-piece.js";

/** A photo ready to burn. */
export interface PreparedPiece {
  /** 1 = burn, with more power levels 0..levels − 1; one byte a pixel, pitch and shape as in the report. */
  readonly bitmap: Bitmap;
  /** The bitmap as a file of the requested format. */
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
 * @param photo a JPEG, PNG, WebP, TIFF, AVIF, HEIC, GIF or SVG file's bytes; not modified
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
  const wishes = { files: sinks, keepBitmap: true, wholeReport: true, aboutPhoto: true };
  const { report, piece } = await makePiece(photo, options, wishes, context);
  const packed = piece.burned.bitmap;
  if (!packed) throw refusal("bitmap-not-kept", {});
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
 * The same, but files are written while they are made. Rows stream from the decoded photo to the file. Only the photo grows with
 * the piece, and with a prediction the bitmap (one bit per pixel, or a byte with power levels). A drawing (SVG) is an exception: it
 * is first rendered as finely as the grid.
 */
export async function prepareTo(
  photo: Uint8Array | BegunPhoto,
  options: PrepareOptions,
  sinks: PieceSinks,
  context: PrepareContext = {},
): Promise<Report> {
  const wishes = { files: sinks, keepBitmap: false, wholeReport: true, aboutPhoto: true };
  return (await makePiece(photo, options, wishes, context)).report;
}
