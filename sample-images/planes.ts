import { decodePhoto } from "../src/1-photo/decode.js";
import { frameJob } from "../src/3-resample/frame.js";
import { packBitmap } from "../src/core/packed-bits.js";
import { denseData } from "../src/core/plane.js";
import { planeOfRows } from "../src/core/plane-rows.js";
import { type PrepareOptions, prepare } from "../src/index.js";
import { resolveOptions } from "../src/options/options.js";
import { predictedRows } from "../src/pipeline/burn/predicted-rows.js";
import { createJob } from "../src/pipeline/job.js";
import { luminanceRows, photoOnGrid } from "../src/pipeline/photo/luminance.js";

/** Whole planes of the data that `prepare` processes row by row: row-major, one value per burn pixel. */
export interface Planes {
  readonly columns: number;
  readonly rows: number;
  /** Wanted luminance factors. */
  readonly wanted: Float32Array;
  /** 1 = burn. */
  readonly bits: Uint8Array;
  /** Predicted luminance factors of the piece. */
  readonly predicted: Float32Array;
}

export async function planesOf(photo: Uint8Array, options: PrepareOptions): Promise<Planes> {
  const { bitmap, report } = await prepare(photo, { ...options, bitmapOnly: true });
  const { columns, rows } = report.job;
  const bits = denseData(bitmap);

  const resolved = resolveOptions(options);
  const { widthMm, heightMm, fit, pitch } = resolved;
  const job = createJob(resolved);
  const source = await decodePhoto(photo);
  const [sourceRows = 0, sourceColumns = 0] = source.luminance.pixels.shape;
  const frame = frameJob({ sourceColumns, sourceRows, widthMm, heightMm, fit, pitch });
  const codes = luminanceRows(job, photoOnGrid(source, frame, resolved));
  const wantedRow = (y: number) => Float32Array.from(codes(y), (code) => job.model.wantedByCode[code]);
  const predicted = predictedRows(job, packBitmap(bits, columns, rows), frame);
  return {
    columns,
    rows,
    wanted: planeOfRows(wantedRow, columns, rows),
    bits,
    predicted: planeOfRows(predicted, columns, rows),
  };
}
