import { reportJson } from "../6-report/files/report-json.js";
import type { Report } from "../6-report/report.js";
import type { PrepareOptions } from "../options/options.js";
import type { BegunPhoto } from "../pipeline/decoding.js";
import type { OnProgress } from "../pipeline/make-piece.js";
import { type AsGiven, commandReaderFor } from "./command-reader.js";
import { createCurveFolder } from "./curve-folder.js";
import { openOutputSet } from "./output-files.js";

export interface PieceRequest {
  readonly folder: string;
  /** The start of the files' names. */
  readonly stem: string;
  readonly photo: Uint8Array | BegunPhoto;
  readonly options: PrepareOptions;
  readonly asGiven: AsGiven;
  /** The photo's name for report and messages. */
  readonly fileName: string;
  readonly onProgress?: OnProgress;
  readonly threads?: number;
}

/** Prepare one photo and write its files, all or none. Throws what `prepare` throws, and `OUTPUT_UNWRITABLE`. */
export async function writePiece(request: PieceRequest): Promise<{ report: Report; written: string[] }> {
  const { folder, stem, photo, options, asGiven, fileName, onProgress, threads } = request;
  const { prepareTo } = await import("../pipeline/prepare.js");
  const burn = `${stem}.burn.${options.format ?? "png"}`;
  const preview = `${stem}.preview.png`;
  const reportName = `${stem}.report.json`;
  const page = `${stem}.report.html`;
  const files = await openOutputSet(folder, [burn, preview, reportName, page]);
  try {
    const report = await prepareTo(
      photo,
      options,
      {
        burn: (bytes) => files.write(burn, bytes),
        preview: (bytes) => files.write(preview, bytes),
        reportPage: (bytes) => files.write(page, bytes),
      },
      { fileName, reader: commandReaderFor(asGiven), curves: createCurveFolder(), onProgress, threads },
    );
    await files.write(reportName, reportJson(report));
    return { report, written: await files.complete() };
  } catch (error) {
    await files.abandon();
    throw error;
  }
}
