import { basename, dirname, extname } from "node:path";
import { type BatchSettings, pieceOptions } from "../../batch/batch-options.js";
import { distinctPaths, outputPath } from "../../batch/output-names.js";
import { sha256 } from "../../batch/sha256.js";
import { type ErrorCode, SpotpitchError } from "../../core/errors.js";
import { sayRefusal } from "../../core/refusals/refusals.js";
import { packageVersion } from "../../core/version.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../../options/options.js";
import { findHalftoneMethod } from "../../pipeline/lists.js";
import { type AsGiven, sheetReader } from "../command-reader.js";
import { commandOptions } from "../flags.js";
import { readOptions, type SettingFiles } from "../read-options.js";
import { refused, refusedSheet } from "../refusals.js";
import type { Upload } from "./inputs.js";
import type { SheetRow } from "./sheet.js";

/** An upload with its options. */
export interface Job {
  readonly upload: Upload;
  readonly options: PrepareOptions;
  readonly resolved: ResolvedOptions;
  readonly asGiven: AsGiven;
  /** Path of its files below the output folder, without their endings. */
  readonly output: string;
  /** Identifies everything that its files depend on, except the content of the upload. */
  readonly jobSha256: string;
  readonly note: string | undefined;
}

/** An upload that is refused before its file is read. */
export interface Unfit {
  readonly id: string;
  readonly code: ErrorCode;
  readonly message: string;
  readonly note: string | undefined;
}

/** The uploads of a pass. */
export interface BoundJobs {
  readonly jobs: readonly Job[];
  readonly unfit: readonly Unfit[];
  /** Uploads that no row of the job sheet names. */
  readonly waiting: readonly Upload[];
}

export interface JobRequest {
  readonly uploads: readonly Upload[];
  /** Of the job sheet; undefined if there is none. */
  readonly rows: readonly SheetRow[] | undefined;
  readonly typed: ReadonlyMap<string, string | boolean>;
  readonly files: SettingFiles;
  readonly settings: BatchSettings;
}

/**
 * Bind each upload to its options: the command line over its row of the job sheet over the config file over the machine file.
 *
 * @throws SpotpitchError for options that are wrong for all, and `INPUT_SHEET_INVALID`
 */
export async function bindJobs(request: JobRequest): Promise<BoundJobs> {
  const { uploads, rows = [], typed, files, settings } = request;
  const rowOf = new Map<string, SheetRow>();
  const unfit: Unfit[] = [];
  for (const row of rows) {
    const { file, where, note } = row;
    const id = uploadFor(row, uploads)?.id;
    const before = id === undefined ? undefined : rowOf.get(id);
    if (id === undefined) {
      const { code, message } = refused.notUploaded(file, where);
      unfit.push({ id: file, code, message, note });
    } else if (before) {
      throw refusedSheet.fileTwice(id, before.where, where);
    } else {
      rowOf.set(id, row);
    }
  }
  const wanted = new Map<string, string>();
  const bound: Omit<Job, "output" | "jobSha256">[] = [];
  const optionsOf = async (row: SheetRow | undefined) => {
    const { units, givenBy, ...asked } = await readOptions(commandOptions.batch, typed, files, row);
    const options = pieceOptions(asked.options);
    const resolved = resolveOptions(options);
    if (resolved.method !== "auto") findHalftoneMethod(resolved.method);
    return { options, resolved, asGiven: { units, givenBy } };
  };
  const common = await optionsOf(undefined).catch((error: unknown) => {
    // What is missing beside the others may stand in the rows: a width for a picture on a part of a round piece.
    const eachHasRow = uploads.length > 0 && uploads.every(({ id }) => rowOf.has(id));
    const noneIsShared = eachHasRow || (request.rows !== undefined && settings.unlisted === "wait");
    if (noneIsShared && error instanceof SpotpitchError && error.code === "OPTION_CONFLICT") return undefined;
    throw error;
  });
  const waiting: Upload[] = [];
  for (const upload of uploads) {
    const row = rowOf.get(upload.id);
    if (!row && request.rows !== undefined && settings.unlisted === "wait") {
      waiting.push(upload);
      continue;
    }
    try {
      const { options, resolved, asGiven } = (row ? undefined : common) ?? (await optionsOf(row));
      bound.push({ upload, options, resolved, asGiven, note: row?.note });
      wanted.set(upload.id, outputPath(settings.pattern, fieldsOf(upload.id, resolved)));
    } catch (error) {
      if (!(error instanceof SpotpitchError) || !row) throw error;
      const message = `${sayRefusal(error, sheetReader)} (${row.where})`;
      unfit.push({ id: upload.id, code: error.code, message, note: row.note });
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

/** The upload with that path, or the only one with that name; capital letters count only where they tell uploads apart. */
function uploadFor({ file }: SheetRow, uploads: readonly Upload[]): Upload | undefined {
  const asWritten = (text: string): string => text.normalize("NFC");
  const folded = (text: string): string => asWritten(text).toLowerCase();
  for (const form of [asWritten, folded]) {
    for (const nameOf of [(id: string) => id, (id: string) => basename(id)]) {
      const named = uploads.filter(({ id }) => form(nameOf(id)) === form(file));
      if (named.length === 1) return named[0];
    }
  }
  return undefined;
}

function fieldsOf(id: string, { material }: ResolvedOptions) {
  const ext = extname(id);
  const folder = dirname(id);
  return {
    folder: folder === "." ? "" : folder,
    stem: basename(id, ext),
    ext: ext.slice(1),
    material: material.name,
  };
}

/** The same text for the same content in any order of its keys. Bytes of files become hashes. */
const stableJson = (value: unknown): string =>
  JSON.stringify(value, (_key, part: unknown) => {
    if (part instanceof Uint8Array) return sha256(part);
    if (typeof part !== "object" || part === null || Array.isArray(part)) return part;
    return Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
