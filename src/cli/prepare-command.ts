import { basename, extname } from "node:path";
import { reportJson } from "../6-report/report-json.js";
import { createCurveFolder } from "./curve-folder.js";
import { prepareFlags } from "./flags.js";
import { readInputFile } from "./input-files.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import { createProgress } from "./progress.js";
import { readOptions } from "./read-options.js";
import { summaryOf } from "./summary.js";

export interface PrepareRequest {
  readonly photo: string;
  /** Typed, or undefined. */
  readonly out: string | undefined;
  readonly config: string | undefined;
  readonly json: boolean;
  /** Values by flag name, only what was typed. */
  readonly typed: ReadonlyMap<string, string | boolean>;
}

/** `spotpitch prepare`: read, prepare, write all or none, tell. */
export async function prepareCommand(request: PrepareRequest): Promise<void> {
  const asked = await readOptions(prepareFlags, request.typed, request.config);
  const { options } = asked;
  const out = request.out ?? asked.out ?? ".";
  const { prepareTo, resolveOptions } = await import("../index.js");
  const resolved = resolveOptions(options);
  const photo = await readInputFile(request.photo, "photo");
  await checkFolder(out);

  const stem = basename(request.photo, extname(request.photo));
  const burn = `${stem}.burn.${options.format ?? "png"}`;
  const preview = `${stem}.preview.png`;
  const reportName = `${stem}.report.json`;
  const progress = createProgress(process.stderr);
  const files = await openOutputSet(out, [burn, preview, reportName]);
  try {
    const report = await prepareTo(
      photo,
      options,
      {
        burn: (bytes) => files.write(burn, bytes),
        preview: (bytes) => files.write(preview, bytes),
      },
      { fileName: basename(request.photo), onProgress: progress.show, curves: createCurveFolder() },
    );
    const json = reportJson(report);
    await files.write(reportName, json);
    const written = await files.complete();
    progress.clear();
    process.stdout.write(request.json ? json : `${summaryOf(report, written, resolved)}\n`);
  } catch (error) {
    await files.abandon();
    throw error;
  } finally {
    progress.clear();
  }
}
