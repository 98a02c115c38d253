/**
 * The ledger's record of an upload. It shows whether the upload's files still match the job, and which files the upload no longer
 * has.
 */
import { isAbsolute, posix } from "node:path";
import * as z from "zod";
import {
  preparedEntry,
  refusedEntry,
  type UploadEntry,
  type WithdrawnBecause,
  waitingEntry,
  withdrawnEntry,
} from "./entry.js";
import type { UploadLimits } from "./limits.js";
import type { OutputFile, Prepared, Refusal } from "./outcome.js";

/** The last verdict on an upload, and the inputs that it depends on. */
export interface LedgerRecord {
  readonly entry: UploadEntry;
  /** Empty if the verdict does not depend on the content. */
  readonly contentSha256: string;
  /** Options, names, limits and version. */
  readonly jobSha256: string;
  /** Where the upload was; absent if nothing was made of it. */
  readonly path?: string | undefined;
  /** Paths below the output folder. */
  readonly outputs: readonly OutputFile[];
  /** The predicted piece, WebP in base64; absent if there is no picture. */
  readonly thumbnail?: string | undefined;
  /** The photo as it was sent, likewise. */
  readonly photo?: string | undefined;
  /** Present if it was refused because so much memory, or so much time, was not enough. */
  readonly memoryBytes?: number | undefined;
  readonly maxSeconds?: number | undefined;
}

/** The job that a record must match. `output` is the path of the job's files below the output folder, without their endings. */
type Asked = { readonly jobSha256: string; readonly output: string };

export function preparedRecord(
  { id, path }: { readonly id: string; readonly path: string },
  { jobSha256, output }: Asked,
  contentSha256: string,
  prepared: Prepared,
): LedgerRecord {
  const folder = output.slice(0, output.lastIndexOf("/") + 1);
  const outputs = prepared.files.map((file) => ({ path: folder + file.path, sha256: file.sha256 }));
  const paths = outputs.map((output) => output.path);
  const entry = preparedEntry(id, prepared, paths);
  const { thumbnail, photo } = prepared;
  return { entry, contentSha256, jobSha256, path, outputs, thumbnail, photo };
}

export function refusedRecord(
  id: string,
  { refused, contentSha256 = "", memoryBytes, maxSeconds }: Refusal,
  jobSha256 = "",
): LedgerRecord {
  const entry = refusedEntry(id, refused.code, refused.message);
  return { entry, contentSha256, jobSha256, outputs: [], memoryBytes, maxSeconds };
}

/** Whether a verdict holds with so much memory and time. Only a refusal for want of one does not hold with more of it. */
export const holdsWithin = (
  record: LedgerRecord,
  {
    memoryBytes,
    limits,
  }: { readonly memoryBytes: number; readonly limits: Pick<UploadLimits, "maxSeconds"> },
): boolean =>
  (record.memoryBytes === undefined || memoryBytes <= record.memoryBytes) &&
  (record.maxSeconds === undefined || limits.maxSeconds <= record.maxSeconds);

/**
 * It answers no job, so that the upload is prepared as soon as it need not wait any more.
 *
 * @param outputs what an earlier run made of it, where it lies aside
 * @param entryOf its reason
 */
export const waitingRecord = (
  { id, path }: { readonly id: string; readonly path: string },
  outputs: readonly OutputFile[] = [],
  entryOf: typeof waitingEntry = waitingEntry,
): LedgerRecord => ({
  entry: entryOf(
    id,
    outputs.map((output) => output.path),
  ),
  ...{ contentSha256: "", jobSha256: "", path, outputs },
});

/** Whether what was made of an upload lies aside already. */
export const isAside = ({ entry }: LedgerRecord): boolean =>
  entry.state === "waiting" || entry.state === "withdrawn";

/** It answers no job, so that the upload is prepared again if it comes back. */
export const withdrawnRecord = (
  { entry, thumbnail, photo }: LedgerRecord,
  outputs: readonly OutputFile[],
  because: WithdrawnBecause = "UPLOAD_GONE",
): LedgerRecord => ({
  entry: withdrawnEntry(
    entry.file,
    outputs.map(({ path }) => path),
    because,
  ),
  ...{ contentSha256: "", jobSha256: "", outputs, thumbnail, photo },
});

/** What follows the name of a job in the names of its files. */
const ENDINGS = /^\.(burn\.[a-z]+|preview\.png|report\.(json|html))$/;

/**
 * Whether a record matches a job. Its files must have the job's own name and nothing more: `boat.edit.burn.png` is a file of another
 * upload than `boat.jpg`.
 */
export const answersJob = (record: LedgerRecord, { jobSha256, output }: Asked): boolean =>
  record.jobSha256 === jobSha256 &&
  record.outputs.every(({ path }) => path.startsWith(output) && ENDINGS.test(path.slice(output.length)));

/** The files that an upload no longer has with its new record. */
export function givenUp(before: LedgerRecord | undefined, after: LedgerRecord): readonly OutputFile[] {
  const kept = new Set(after.outputs.map(({ path }) => path));
  return before?.outputs.filter(({ path }) => !kept.has(path)) ?? [];
}

/** A normalised path, so that no two paths name the same file. */
const insidePath = z
  .string()
  .refine((path) => path === posix.normalize(path))
  .refine((path) => !isAbsolute(path) && !path.split(/[\\/]/).includes(".."));

/** Files of a record, with the hashes of their content. */
export const recordedFiles = z.array(z.object({ path: insidePath, sha256: z.string() }));

/** The checked part of a record. The entry is only copied to the lists, so its files must be the checked ones. */
const recordSchema = z
  .object({
    entry: z.custom<UploadEntry>((value) => typeof value === "object" && value !== null && "file" in value),
    contentSha256: z.string(),
    jobSha256: z.string(),
    path: z.string().optional(),
    outputs: recordedFiles,
    thumbnail: z.string().optional(),
    photo: z.string().optional(),
    memoryBytes: z.number().optional(),
    maxSeconds: z.number().optional(),
  })
  .refine(
    ({ entry, outputs }) => JSON.stringify(entry.outputs) === JSON.stringify(outputs.map(({ path }) => path)),
  );

/** Read a record. Undefined if it is damaged; the work is then done again. */
export function parseRecord(text: string): LedgerRecord | undefined {
  try {
    return recordSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return;
  }
}
