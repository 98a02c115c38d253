import { basename, extname } from "node:path";
import { reportJson } from "../6-report/report-json.js";
import type { Photo } from "../index.js";
import { createCurveFolder } from "./curve-folder.js";
import { prepareFlags } from "./flags.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import type { PrepareRequest } from "./prepare-command.js";
import { createProgress } from "./progress.js";
import { readOptions } from "./read-options.js";
import { summaryOf } from "./summary.js";

/**
 * Read the options, prepare, write all or none, tell.
 *
 * @param decoded the photo, where it is being decoded already
 */
export async function prepareFiles(
  request: PrepareRequest,
  reading: Promise<Uint8Array>,
  decoded: Promise<Photo> | undefined,
): Promise<void> {
  const asked = await readOptions(prepareFlags, request.typed, request.config);
  const { options } = asked;
  const out = request.out ?? asked.out ?? ".";
  const { prepareTo, resolveOptions } = await import("../index.js");
  const resolved = resolveOptions(options);
  const photo = await reading;
  await checkFolder(out);

  const stem = basename(request.photo, extname(request.photo));
  const burn = `${stem}.burn.${options.format ?? "png"}`;
  const preview = `${stem}.preview.png`;
  const reportName = `${stem}.report.json`;
  const page = `${stem}.report.html`;
  const progress = createProgress(process.stderr);
  const files = await openOutputSet(out, [burn, preview, reportName, page]);
  try {
    const report = await prepareTo(
      decoded ?? photo,
      options,
      {
        burn: (bytes) => files.write(burn, bytes),
        preview: (bytes) => files.write(preview, bytes),
        reportPage: (bytes) => files.write(page, bytes),
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
