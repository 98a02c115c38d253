import { mkdir, readdir, rename, rm, rmdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { preparedEntry, refusedEntry, type UploadEntry } from "../../batch/entry.js";
import { jobMemoryNeed } from "../../batch/limits.js";
import type { BatchSettings } from "./flags.js";
import type { Job, Unfit } from "./jobs.js";
import { hasNoLinks, type Ledger, type LedgerRecord } from "./ledger.js";
import type { Pool } from "./pool.js";
import { schedule } from "./schedule.js";
import type { Refusal } from "./worker.js";

/** An entry with what the contact sheet shows of it. */
export interface Verdict {
  readonly entry: UploadEntry;
  readonly thumbnail?: string | undefined;
  /** Whether an earlier run had it. */
  readonly kept: boolean;
}

export interface PassContext {
  readonly out: string;
  /** Folder for what is not complete; on the same disk as `out`. */
  readonly work: string;
  readonly ledger: Ledger;
  readonly pool: Pool;
  readonly settings: BatchSettings;
  /** Told after each upload: work done and to do, in bytes of need as a measure. */
  readonly onProgress: (progress: { done: number; all: number; share: number }) => void;
}

/** Looking at a file takes this much of a worker. */
const SURVEY_BYTES = 250e6;

/** Look at every upload, then prepare those that are fit and not done yet. Verdicts come in the order of ids. */
export async function runPass(
  jobs: readonly Job[],
  unfit: readonly Unfit[],
  context: PassContext,
): Promise<Verdict[]> {
  const { ledger, pool, settings, out } = context;
  const verdicts: Verdict[] = unfit.map(({ id, code, message, note }) => ({
    entry: withNote(refusedEntry(id, code, message), note),
    kept: false,
  }));
  const toDo: (Job & { readonly contentSha256: string; readonly needBytes: number })[] = [];
  const settle = (job: Job, record: LedgerRecord, from?: string): Promise<void> => {
    const taken = (path: string): boolean =>
      jobs.some(({ output, upload }) => upload !== job.upload && path.startsWith(`${output}.`));
    return settleUpload(job, record, context, taken, from);
  };
  const refuse = async (job: Job, { refused, contentSha256 }: Refusal): Promise<void> => {
    const entry = refusedEntry(job.upload.id, refused.code, refused.message);
    await settle(job, { entry, contentSha256: contentSha256 ?? "", jobSha256: job.jobSha256, outputs: [] });
    verdicts.push({ entry: withNote(entry, job.note), kept: false });
  };

  // What an earlier run made of an upload that can no longer be asked for must not pass for the answer.
  for (const { id, code, message } of unfit) {
    const before = ledger.get(id);
    if (!before || before.outputs.length === 0) continue;
    for (const { path } of before.outputs) {
      if (!jobs.some(({ output }) => path.startsWith(`${output}.`))) await removeOutput(out, path);
    }
    await ledger.set(id, { ...before, entry: refusedEntry(id, code, message), jobSha256: "", outputs: [] });
  }

  const surveys = jobs.map((job) => ({ job, needBytes: SURVEY_BYTES }));
  await schedule(surveys, settings.workers, settings.memoryBytes, async ({ job }) => {
    const record = ledger.get(job.upload.id);
    const known = record?.jobSha256 === job.jobSha256 && listsOwn(job, record) ? record : undefined;
    const surveyed = await pool.survey({
      upload: job.upload,
      limits: settings.limits,
      out,
      ...(known && { known }),
    });
    if ("unchanged" in surveyed && known) {
      verdicts.push({ entry: withNote(known.entry, job.note), thumbnail: known.thumbnail, kept: true });
    } else if ("refused" in surveyed) {
      await refuse(job, surveyed);
    } else if ("facts" in surveyed) {
      const { facts, contentSha256 } = surveyed;
      toDo.push({ ...job, contentSha256, needBytes: jobMemoryNeed(facts, job.resolved) });
    }
  });

  const all = toDo.reduce((sum, { needBytes }) => sum + needBytes, 0);
  let done = 0;
  const told = (): void =>
    context.onProgress({
      done: verdicts.length,
      all: jobs.length + unfit.length,
      share: all ? done / all : 1,
    });
  told();
  await schedule(toDo, settings.workers, settings.memoryBytes, async (job) => {
    const name = job.output.split("/").pop() ?? "";
    const folder = join(context.work, job.contentSha256.slice(0, 16) + job.jobSha256.slice(0, 16));
    const made = await pool.prepare({
      upload: job.upload,
      limits: settings.limits,
      options: job.options,
      contentSha256: job.contentSha256,
      folder,
      stem: name,
    });
    if ("refused" in made) {
      await refuse(job, made);
    } else {
      const below = dirname(job.output);
      const outputs = made.files.map(({ path, sha256 }) => ({
        path: below === "." ? path : `${below}/${path}`,
        sha256,
      }));
      const entry = preparedEntry(
        job.upload.id,
        made.findings,
        made.grade,
        made.figures,
        outputs.map(({ path }) => path),
        made.warnings,
      );
      const { contentSha256, jobSha256 } = job;
      const record = { entry, contentSha256, jobSha256, outputs, thumbnail: made.thumbnail };
      await settle(job, record, folder);
      verdicts.push({ entry: withNote(entry, job.note), thumbnail: made.thumbnail, kept: false });
    }
    done += job.needBytes;
    told();
  });
  return verdicts.sort((a, b) => (a.entry.file < b.entry.file ? -1 : 1));
}

/** Whether all files of a record have the job's own name: another upload's are never taken for its own. */
const listsOwn = ({ output }: Job, { outputs }: LedgerRecord): boolean =>
  outputs.every(({ path }) => path.startsWith(`${output}.`));

/** The sheet's note is not part of the work: changing it redoes nothing. */
const withNote = (entry: UploadEntry, note: string | undefined): UploadEntry =>
  note === undefined ? entry : { ...entry, note };

/**
 * Give an upload's files their names, take away those of an earlier verdict, and only then say so in the ledger. Killed in
 * between, the next run finds no record, or one that does not agree with the files, and does the work again.
 *
 * @param taken whether a path belongs to another upload by now
 */
async function settleUpload(
  job: Job,
  record: LedgerRecord,
  context: PassContext,
  taken: (path: string) => boolean,
  from?: string,
): Promise<void> {
  const { out, ledger } = context;
  const before = ledger.get(job.upload.id);
  if (from !== undefined) {
    await mkdir(join(out, dirname(job.output)), { recursive: true });
    for (const { path } of record.outputs) {
      await rename(join(from, path.split("/").pop() ?? path), join(out, path));
    }
    await rmdir(from);
  }
  const kept = new Set(record.outputs.map(({ path }) => path));
  for (const { path } of before?.outputs ?? []) {
    if (!kept.has(path) && !taken(path)) await removeOutput(out, path);
  }
  await ledger.set(job.upload.id, record);
}

/** With the folders that are empty then. Nothing is removed behind a link, where it may be anybody's. */
async function removeOutput(out: string, path: string): Promise<void> {
  if (!(await hasNoLinks(out, dirname(path)))) return;
  await rm(join(out, path), { force: true });
  for (let folder = dirname(path); folder !== "."; folder = dirname(folder)) {
    const left = await readdir(join(out, folder)).catch(() => [""]);
    if (left.length > 0) return;
    await rmdir(join(out, folder));
  }
}
