import { existsSync, lstatSync } from "node:fs";
import { rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { BatchSettings } from "../../batch/batch-options.js";
import { type Verdict, verdictOf } from "../../batch/lists.js";
import { jobMemoryNeed, PROCESS_BYTES } from "../../batch/memory-need.js";
import { type OutputFile, type Refusal, refusalOf } from "../../batch/outcome.js";
import {
  answersJob,
  holdsWithin,
  isAside,
  type LedgerRecord,
  preparedRecord,
  refusedRecord,
  waitingRecord,
  withdrawnRecord,
} from "../../batch/records.js";
import type { Sized } from "../../batch/schedule.js";
import { naturalOrder } from "../../core/natural-order.js";
import { commandReader } from "../command-reader.js";
import { systemCode } from "../refusals.js";
import type { Upload } from "./inputs.js";
import type { BoundJobs, Job, Unfit } from "./jobs.js";
import type { Ledger } from "./ledger.js";
import { areIntact, type Settle, setAside } from "./output-folder.js";
import type { Exceeded, Pool } from "./pool.js";
import { refusedUpload } from "./upload-refusals.js";
import { runWithinMemory } from "./within-memory.js";

export interface PassContext {
  readonly out: string;
  /** Folder for unfinished files, on the same disk as `out`. */
  readonly work: string;
  readonly ledger: Ledger;
  readonly settle: Settle;
  readonly pool: Pool;
  readonly settings: BatchSettings;
  /** Called after each upload with the number of finished uploads and the share of the work, measured in bytes of memory needed. */
  readonly onProgress: (progress: { done: number; all: number; share: number }) => void;
}

/** A job whose upload passed the survey and must be prepared. */
interface FitJob extends Sized {
  readonly job: Job;
  readonly contentSha256: string;
}

interface SurveyedJob extends Sized {
  readonly job: Job;
}

/** A worker surveys a file of a usual size within the memory of its process. */
const SURVEY_BYTES = 0;

/** Survey every upload, then prepare those that passed and are not done yet. Verdicts are in the natural order of ids. */
export async function runPass({ jobs, unfit, waiting }: BoundJobs, context: PassContext): Promise<Verdict[]> {
  const present = new Set([...jobs.map(({ upload }) => upload), ...waiting].map(({ id }) => id));
  const gone = await settleGone(present, context);
  const verdicts = [...(await refuseUnfit(unfit, context)), ...(await letWait(waiting, context))];
  const told = new Set(verdicts.map(({ entry }) => entry.file));
  verdicts.push(...gone.filter(({ entry }) => !told.has(entry.file)));
  const surveyed = await runWithinMemory<SurveyedJob, Verdict | FitJob>(
    jobs.map((job) => ({ job, needBytes: SURVEY_BYTES })),
    context.settings,
    ({ job }, bytes) => surveyJob(job, bytes, context),
    async ({ job }) => refuseForMemory(job, await hashOf(job, context), context),
  );
  for (const each of surveyed) if ("entry" in each) verdicts.push(each);
  const fit = surveyed.filter((each) => "job" in each);
  const onPrepared = countProgress(verdicts.length, fit, context.onProgress);
  const prepared = await runWithinMemory<FitJob, Verdict>(
    fit,
    context.settings,
    async (each, bytes) => {
      const verdict = await prepareJob(each, bytes, context);
      if (!("exceeded" in verdict)) onPrepared(each);
      return verdict;
    },
    async (each) => {
      onPrepared(each);
      return refuseForMemory(each.job, each.contentSha256, context);
    },
  );
  return [...verdicts, ...prepared].sort((a, b) => naturalOrder(a.entry.file, b.entry.file));
}

/** Refuse uploads with unusable options. Their files from an earlier run are removed, so that nobody takes them for the result. */
async function refuseUnfit(unfit: readonly Unfit[], { ledger, settle }: PassContext): Promise<Verdict[]> {
  const verdicts: Verdict[] = [];
  for (const { id, code, message, note } of unfit) {
    const record = refusedRecord(id, { refused: { code, message } });
    const before = ledger.get(id);
    if (before?.outputs.length && !isAside(before)) await settle(record);
    verdicts.push(verdictOf(record, note));
  }
  return verdicts;
}

/** Let uploads wait for a row. What an earlier run made of them was not wrong, but nobody may take it for the answer: it moves aside. */
async function letWait(waiting: readonly Upload[], context: PassContext): Promise<Verdict[]> {
  const verdicts: Verdict[] = [];
  for (const upload of waiting) {
    const before = context.ledger.get(upload.id);
    const record = waitingRecord(upload, before && (await outputsAside(before, context)));
    if (before) await context.ledger.set(record);
    verdicts.push(verdictOf(record, undefined));
  }
  return verdicts;
}

/** What was made of an upload, where it lies aside. What lies there already stays. */
const outputsAside = (
  record: LedgerRecord,
  { ledger, out }: PassContext,
): readonly OutputFile[] | Promise<OutputFile[]> =>
  isAside(record) ? record.outputs : setAside(out, ledger, record);

/**
 * Uploads of earlier runs whose files are gone: what was made of them moves aside. An upload that is only not among those of this run
 * keeps its files.
 */
async function settleGone(present: ReadonlySet<string>, context: PassContext): Promise<Verdict[]> {
  const { ledger, out } = context;
  const verdicts: Verdict[] = [];
  for (const id of ledger.ids()) {
    const record = present.has(id) ? undefined : ledger.get(id);
    if (!record || record.entry.state === "refused") continue;
    if (record.entry.state === "withdrawn") {
      if (await areIntact(out, record.outputs)) verdicts.push(verdictOf(record, undefined, true));
      else ledger.remove(id);
    } else if (present.size > 0 && isGone(id, record.path)) {
      const aside = await outputsAside(record, context);
      if (aside.length === 0) {
        ledger.remove(id);
        continue;
      }
      const withdrawn = withdrawnRecord(record, aside);
      await ledger.set(withdrawn);
      verdicts.push(verdictOf(withdrawn, undefined));
    }
  }
  return verdicts;
}

/** Whether an upload is gone from a folder of uploads that is still there: the whole folder may be on a disk that is not plugged in. */
function isGone(id: string, path: string | undefined): boolean {
  if (path === undefined) return false;
  const given = path.endsWith(id) ? path.slice(0, path.length - id.length) : dirname(path);
  if (!existsSync(given)) return false;
  try {
    lstatSync(path);
    return false;
  } catch (error) {
    return systemCode(error) === "ENOENT";
  }
}

async function surveyJob(
  job: Job,
  bytes: number,
  context: PassContext,
): Promise<Verdict | FitJob | Exceeded> {
  const { ledger, pool, settings, out } = context;
  const record = ledger.get(job.upload.id);
  const isKnown = record && answersJob(record, job) && holdsWithin(record, settings.memoryBytes);
  const task = { upload: job.upload, limits: settings.limits, out, ...(isKnown && { known: record }) };
  const survey = await pool.survey(task, bytes);
  if ("exceeded" in survey) return survey;
  if ("refused" in survey) return refuse(job, survey, context);
  if ("unchanged" in survey) return verdictOf(survey.unchanged, job.note, true);
  return { job, contentSha256: survey.contentSha256, needBytes: jobMemoryNeed(survey.facts, job.resolved) };
}

/** The content of an upload that cannot be surveyed within its memory; undefined if it cannot be read either. */
async function hashOf({ upload }: Job, { pool, settings, out }: PassContext): Promise<string | undefined> {
  const hashed = await pool.hash({ upload, limits: settings.limits, out }, PROCESS_BYTES + settings.jobBytes);
  return "exceeded" in hashed ? undefined : hashed.contentSha256;
}

/** The verdict holds for the same content until there is more memory. */
function refuseForMemory(
  job: Job,
  contentSha256: string | undefined,
  context: PassContext,
): Promise<Verdict> {
  const { memoryBytes } = context.settings;
  const reason = refusedUpload.tooMuchMemory(job.upload.id, memoryBytes);
  return refuse(job, { ...refusalOf(reason, contentSha256, commandReader), memoryBytes }, context);
}

async function prepareJob(
  { job, contentSha256 }: FitJob,
  bytes: number,
  context: PassContext,
): Promise<Verdict | Exceeded> {
  const { upload, options, asGiven, output, jobSha256, note } = job;
  const folder = join(context.work, contentSha256.slice(0, 16) + jobSha256.slice(0, 16));
  const { limits } = context.settings;
  const stem = basename(output);
  const task = { upload, limits, options, asGiven, contentSha256, folder, stem };
  // A worker that was ended may have left files.
  await rm(folder, { recursive: true, force: true });
  const prepared = await context.pool.prepare(task, bytes);
  if ("exceeded" in prepared) return prepared;
  if ("refused" in prepared) return refuse(job, prepared, context);
  const record = preparedRecord(upload, job, contentSha256, prepared);
  await context.settle(record, folder);
  return verdictOf(record, note);
}

async function refuse(job: Job, refusal: Refusal, { settle }: PassContext): Promise<Verdict> {
  const record = refusedRecord(job.upload.id, refusal, job.jobSha256);
  await settle(record);
  return verdictOf(record, job.note);
}

/** Report the progress of a pass. Returns the function to call after each job. */
function countProgress(
  doneBefore: number,
  toDo: readonly Sized[],
  onProgress: PassContext["onProgress"],
): (job: Sized) => void {
  const allBytes = toDo.reduce((sum, { needBytes }) => sum + needBytes, 0);
  const all = doneBefore + toDo.length;
  let done = doneBefore;
  let doneBytes = 0;
  onProgress({ done, all, share: allBytes > 0 ? 0 : 1 });
  return ({ needBytes }) => {
    doneBytes += needBytes;
    onProgress({ done: ++done, all, share: doneBytes / allBytes });
  };
}
