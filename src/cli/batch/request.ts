import { availableParallelism, totalmem } from "node:os";
import { resolve } from "node:path";
import { isDynamicPattern } from "tinyglobby";
import { batchSettings } from "../../batch/batch-options.js";
import { commandOptions } from "../flags.js";
import { readOptions, writeNotes } from "../read-options.js";
import { refused, refusedSheet } from "../refusals.js";
import { findUploads, readFileList, type Upload } from "./inputs.js";
import { bindJobs } from "./jobs.js";
import type { BoundJobs } from "./pass.js";
import { readSheet, sheetUploads } from "./sheet.js";

/** The command line of `spotpitch batch`. */
export interface BatchRequest {
  readonly inputs: readonly string[];
  readonly out: string | undefined;
  readonly config: string | undefined;
  readonly json: boolean;
  readonly typed: ReadonlyMap<string, string | boolean>;
  readonly sheet: string | undefined;
  /** A text file with a path on each line. */
  readonly list: string | undefined;
  readonly recursive: boolean;
  readonly watch: boolean;
}

/** Read the options, the job sheet and the list of files that a request names. Throws `OPTION_*` and `INPUT_*`. */
export async function readRequest(request: BatchRequest) {
  const { typed, config, sheet, list, recursive, watch } = request;
  const asked = await readOptions(commandOptions.batch, typed, config);
  writeNotes(asked.notes);
  const settings = batchSettings(asked.options, availableParallelism(), totalmem());
  const out = resolve(request.out ?? asked.out ?? "batch");
  const rows = sheet === undefined ? [] : await readSheet(sheet);
  if (sheet !== undefined && rows.length === 0) throw refusedSheet.noRows(sheet);
  const inputs = [...request.inputs, ...(list === undefined ? [] : await readFileList(list))];
  const ownFiles = [sheet, list, config].filter((file) => file !== undefined);
  if (inputs.length === 0 && sheet === undefined) throw refused.nothingGiven();
  const find = async (): Promise<Upload[]> => {
    if (inputs.length === 0) return sheetUploads(sheet ?? "", rows);
    const uploads = await findUploads(inputs, recursive, out, ownFiles);
    if (uploads.length > 0 || watch) return uploads;
    if (inputs.some((input) => isDynamicPattern(input))) throw refused.nothingMatches(inputs);
    // Rows of a sheet get a verdict each, also if their files are missing.
    if (rows.length === 0) throw refused.nothingInside(inputs, recursive);
    return uploads;
  };
  return {
    settings,
    out,
    find,
    bind: (uploads: readonly Upload[]): Promise<BoundJobs> =>
      bindJobs({ uploads, rows, typed, config, settings }),
  };
}

/** The source of a batch's jobs, and the place of their files. */
export type Batch = Awaited<ReturnType<typeof readRequest>>;
