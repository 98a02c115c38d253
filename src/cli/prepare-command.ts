import { basename, extname } from "node:path";
import { reportJson } from "../6-report/report-json.js";
import { withMaterialDoubts } from "../6-report/warnings.js";
import { prepareFlags } from "./flags.js";
import { readInputFile } from "./input-files.js";
import { checkFolder, type OutputFile, writeAllOrNone } from "./output-files.js";
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
  const { prepare, resolveOptions } = await import("../index.js");
  const resolved = resolveOptions(options);
  const photo = await readInputFile(request.photo, "photo");
  await checkFolder(out);

  const progress = createProgress(process.stderr);
  try {
    const piece = await prepare(photo, options, {
      fileName: basename(request.photo),
      onProgress: progress.show,
    });
    const report = withMaterialDoubts(piece.report, resolved.material);
    const stem = basename(request.photo, extname(request.photo));
    const files: OutputFile[] = [
      { name: `${stem}.burn.${options.format ?? "png"}`, content: piece.burnFile },
      ...(piece.previewFile ? [{ name: `${stem}.preview.png`, content: piece.previewFile }] : []),
      { name: `${stem}.report.json`, content: reportJson(report) },
    ];
    const written = await writeAllOrNone(out, files);
    progress.clear();
    process.stdout.write(request.json ? reportJson(report) : `${summaryOf(report, written, resolved)}\n`);
  } finally {
    progress.clear();
  }
}
