import { basename, dirname, extname } from "node:path";
import type { BatchSettings } from "../../batch/batch-options.js";
import type { FromSheet } from "../../batch/lists.js";
import { distinctPaths, outputPath } from "../../batch/output-names.js";
import { sha256 } from "../../batch/sha256.js";
import { SpotpitchError } from "../../core/errors.js";
import { sayRefusal } from "../../core/refusals/refusals.js";
import { packageVersion } from "../../core/version.js";
import { optionsOfPiece } from "../../options/of-piece.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../../options/options.js";
import { findHalftoneMethod } from "../../pipeline/lists.js";
import { type AsGiven, sheetReader } from "../command-reader.js";
import { commandOptions } from "../flags.js";
import { readOptions, type SettingFiles } from "../read-options.js";
import { type BoundPiece, type BoundRows, bindRows, fromSheetOf } from "./bind-rows.js";
import type { Upload } from "./inputs.js";
import type { SheetRow } from "./sheet.js";
import { stableJson } from "./stable-json.js";

/** A piece of an upload, with its options. Its upload has an id of its own where one photo makes several pieces. */
export interface Job {
  readonly upload: Upload;
  readonly options: PrepareOptions;
  readonly resolved: ResolvedOptions;
  readonly asGiven: AsGiven;
  /** Path of its files below the output folder, without their endings. */
  readonly output: string;
  /** Identifies everything that its files depend on, except the content of the upload. */
  readonly jobSha256: string;
  /** How often it is laid on a board. */
  readonly copies: number;
  /** What is only passed on to the lists. */
  readonly fromSheet: FromSheet;
}

/** The pieces of a pass. */
export interface BoundJobs extends Omit<BoundRows, "pieces"> {
  readonly jobs: readonly Job[];
}

export interface JobRequest {
  readonly uploads: readonly Upload[];
  /** Of the job sheet; undefined if there is none. */
  readonly rows: readonly SheetRow[] | undefined;
  readonly typed: ReadonlyMap<string, string | boolean>;
  readonly files: SettingFiles;
  readonly settings: BatchSettings;
}

/** The options of a piece, and what is kept of how they were given. */
type PieceOptions = Pick<Job, "options" | "resolved" | "asGiven">;

/**
 * Bind each upload to its options: the command line over its row of the job sheet over the config file over the machine file.
 *
 * @throws SpotpitchError for options that are wrong for all
 */
export async function bindJobs(request: JobRequest): Promise<BoundJobs> {
  const { uploads, rows, typed, settings } = request;
  const { pieces, unfit, waiting } = bindRows(uploads, rows, settings.unlisted);
  const common = await commonOptions(request, pieces);
  const bound: Omit<Job, "output" | "jobSha256">[] = [];
  const wanted = new Map<string, string>();
  for (const { upload, file, row } of pieces) {
    const asked = typed.has("copies") ? undefined : row?.quantity;
    const copies = asked ?? settings.copies;
    const isSeveral = copies > 1 || asked !== undefined;
    const fromSheet = { ...fromSheetOf(file, row), ...(isSeveral && { quantity: copies }) };
    try {
      const own = (row ? undefined : common) ?? (await optionsOf(request, row));
      bound.push({ upload, ...own, copies, fromSheet });
      wanted.set(upload.id, outputPath(settings.pattern, fieldsOf(file, row?.name, own.resolved)));
    } catch (error) {
      if (!(error instanceof SpotpitchError) || !row) throw error;
      const message = `${sayRefusal(error, sheetReader)} (${row.where})`;
      unfit.push({ id: upload.id, code: error.code, message, fromSheet });
    }
  }
  const paths = distinctPaths(wanted);
  const jobs = bound.map((job) => {
    const output = paths.get(job.upload.id) ?? "";
    const { maxPixels, maxBytes } = settings.limits;
    const made = [packageVersion(), job.options, job.asGiven, output, maxPixels, maxBytes];
    return { ...job, output, jobSha256: sha256(stableJson(made)) };
  });
  return { jobs, unfit, waiting };
}

/** The options that all uploads share. Undefined if they are not complete, and no upload needs them. */
async function commonOptions(
  request: JobRequest,
  pieces: readonly BoundPiece[],
): Promise<PieceOptions | undefined> {
  try {
    return await optionsOf(request, undefined);
  } catch (error) {
    // What is missing beside the others may stand in the rows: a width for a picture on a part of a round piece.
    const eachHasRow = pieces.length > 0 && pieces.every(({ row }) => row !== undefined);
    const noneIsShared = eachHasRow || (request.rows !== undefined && request.settings.unlisted === "wait");
    if (noneIsShared && error instanceof SpotpitchError && error.code === "OPTION_CONFLICT") return undefined;
    throw error;
  }
}

async function optionsOf({ typed, files }: JobRequest, row: SheetRow | undefined): Promise<PieceOptions> {
  const { units, givenBy, ...asked } = await readOptions(commandOptions.batch, typed, files, row);
  const options = optionsOfPiece(asked.options);
  const resolved = resolveOptions(options);
  if (resolved.method !== "auto") findHalftoneMethod(resolved.method);
  return { options, resolved, asGiven: { units, givenBy } };
}

/** @param name of a piece of several of one file */
function fieldsOf(file: string, name: string | undefined, { material }: ResolvedOptions) {
  const ext = extname(file);
  const folder = dirname(file);
  const stem = basename(file, ext);
  return {
    folder: folder === "." ? "" : folder,
    stem: name === undefined ? stem : `${stem}-${name}`,
    ext: ext.slice(1),
    material: material.name,
  };
}
