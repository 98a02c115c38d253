import { basename, extname } from "node:path";
import { reportJson } from "../6-report/files/report-json.js";
import type { BegunPhoto } from "../pipeline/decoding.js";
import { commandOptions } from "./flags.js";
import { checkFolder } from "./output-files.js";
import { createProgress } from "./progress.js";
import { readOptions, writeNotes } from "./read-options.js";
import type { PhotoRequest } from "./request.js";
import { summaryOf } from "./summary.js";
import { print } from "./terminal.js";
import { writePiece } from "./write-piece.js";

/**
 * Read the options, prepare the photo, write all files or none, print the summary.
 *
 * @param decoded the photo, if decoding has already started
 */
export async function prepareFiles(
  request: PhotoRequest,
  reading: Promise<Uint8Array>,
  decoded: BegunPhoto | undefined,
): Promise<void> {
  const asked = await readOptions(commandOptions.prepare, request.typed, request);
  const { options } = asked;
  writeNotes(asked.notes);
  const out = request.out ?? asked.out ?? ".";
  const { resolveOptions } = await import("../options/options.js");
  const resolved = resolveOptions(options);
  const photo = await reading;
  await checkFolder(out);

  const progress = createProgress(process.stderr);
  try {
    const { report, written } = await writePiece({
      folder: out,
      stem: basename(request.photo, extname(request.photo)),
      photo: decoded ?? photo,
      options,
      asGiven: asked,
      fileName: basename(request.photo),
      onProgress: progress.show,
    });
    progress.clear();
    print(request.json ? reportJson(report) : `${summaryOf(report, written, resolved)}\n`);
  } finally {
    progress.clear();
  }
}
