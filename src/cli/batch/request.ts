import { availableParallelism, totalmem } from "node:os";
import { resolve } from "node:path";
import { isDynamicPattern } from "tinyglobby";
import { batchSettings } from "../../batch/batch-options.js";
import { groundOf, idleBoardWords } from "../boards.js";
import { commandOptions, flagName, flagNamed } from "../flags.js";
import { isInParts } from "../overlaid.js";
import { idleQueueWords } from "../queue/idle.js";
import { readOptions, type SettingFiles, writeNotes } from "../read-options.js";
import { refused } from "../refusals.js";
import { readWords } from "../words-file.js";
import { findUploads, readFileList, type Upload } from "./inputs.js";
import { type BoundJobs, bindJobs } from "./jobs.js";
import { openSheet } from "./live-sheet.js";
import { type SheetRow, sheetUploads } from "./sheet.js";

/** The command line of `spotpitch batch`. */
export interface BatchRequest extends SettingFiles {
  readonly inputs: readonly string[];
  readonly out: string | undefined;
  readonly json: boolean;
  readonly typed: ReadonlyMap<string, string | boolean>;
  readonly sheet: string | undefined;
  /** A text file with a path on each line. */
  readonly list: string | undefined;
  /** A shop's words to customers. */
  readonly words: string | undefined;
  readonly recursive: boolean;
  readonly watch: boolean;
}

/** Read the options, the job sheet and the list of files that a request names. Throws `OPTION_*` and `INPUT_*`. */
export async function readRequest(request: BatchRequest) {
  const { typed, config, machine, sheet, list, words, recursive, watch } = request;
  const files = { config, machine };
  const asked = await readOptions(commandOptions.batch, typed, files);
  writeNotes([...asked.notes, ...idleBoardWords(asked.options), ...idleQueueWords(asked.options)]);
  const settings = batchSettings(asked.options, availableParallelism(), totalmem());
  writeNotes(fewerWorkersWords(asked.options.workers, settings.workers));
  const out = resolve(request.out ?? asked.out ?? "batch");
  const inputs = [...request.inputs, ...(list === undefined ? [] : await readFileList(list))];
  // Without other inputs the sheet names the uploads.
  const live = sheet === undefined ? undefined : await openSheet(sheet, inputs.length === 0);
  writeNotes(outdoneWords((await live?.rows()) ?? [], typed));
  const ownFiles = [sheet, list, words, config, machine].filter((file) => typeof file === "string");
  if (inputs.length === 0 && sheet === undefined) throw refused.nothingGiven();
  const find = async (): Promise<Upload[]> => {
    if (inputs.length === 0) return sheetUploads(sheet ?? "", (await live?.rows()) ?? []);
    const uploads = await findUploads(inputs, recursive, out, ownFiles);
    if (uploads.length > 0 || watch) return uploads;
    if (inputs.some((input) => isDynamicPattern(input))) throw refused.nothingMatches(inputs);
    // Rows of a sheet get a verdict each, also if their files are missing.
    if (!live) throw refused.nothingInside(inputs, recursive);
    return uploads;
  };
  return {
    settings,
    ground: await groundOf(asked.options),
    out,
    words: words === undefined ? undefined : await readWords(words),
    find,
    /** Files beside the uploads after whose change a pass is due. */
    watched: sheet === undefined ? [] : [sheet],
    bind: async (uploads: readonly Upload[]): Promise<BoundJobs> =>
      bindJobs({ uploads, rows: await live?.rows(), typed, files, settings }),
  };
}

function fewerWorkersWords(asked: number | undefined, workers: number): string[] {
  if (asked === undefined || asked <= workers) return [];
  return [`The memory is enough for ${workers} of ${asked} workers. Raise --memory to run more.`];
}

/** Columns of a job sheet that have no effect, because what is typed wins. */
export function outdoneWords(rows: readonly SheetRow[], typed: ReadonlyMap<string, unknown>): string[] {
  return commandOptions.batch.flags
    .filter((flag) => typed.has(flagName(flag)))
    .flatMap((flag) => {
      const name = flagName(flag);
      const column = name === "copies" ? "quantity" : name;
      const count = rows.filter(({ values, quantity }) =>
        name === "copies"
          ? quantity !== undefined
          : Object.keys(values).some((each) => flagNamed([flag], each)),
      ).length;
      if (count === 0 || isInParts(flag)) return [];
      const inRows = count === 1 ? "1 row" : `${count} rows`;
      return `--${name} on the command line wins over the job sheet: its "${column}" in ${inRows} has no effect. Write what is meant for all other files into a config file (--config) instead.`;
    });
}

/** The source of a batch's jobs, and the place of their files. */
export type Batch = Awaited<ReturnType<typeof readRequest>>;
