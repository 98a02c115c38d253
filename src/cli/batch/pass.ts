import { rm } from "node:fs/promises";
import { basename, join } from "node:path";
import type { BatchSettings } from "../../batch/batch-options.js";
import { arrivingEntry, waitingEntry } from "../../batch/entry.js";
import { type FromSheet, type Verdict, verdictOf } from "../../batch/lists.js";
import { jobMemoryNeed, PROCESS_BYTES } from "../../batch/memory-need.js";
import { type Refusal, refusalOf } from "../../batch/outcome.js";
import {
  answersJob,
  holdsWithin,
  isAside,
  preparedRecord,
  refusedRecord,
  waitingRecord,
} from "../../batch/records.js";
import type { Sized } from "../../batch/schedule.js";
import { naturalOrder } from "../../core/natural-order.js";
import { commandReader } from "../command-reader.js";
import type { Unfit } from "./bind-rows.js";
import type { Upload } from "./inputs.js";
import type { BoundJobs, Job } from "./jobs.js";
import type { Settle } from "./output-folder.js";
import type { Pool } from "./pool.js";
import { type Earlier, outputsAside, settleGone } from "./settle-gone.js";
import { refusedUpload } from "./upload-refusals.js";
import { type Exceeded, runWithinMemory } from "./within-memory.js";

export interface PassContext extends Earlier {
  /** Folder for unfinished files, on the same disk as `out`. */
  readonly work: string;
  readonly settle: Settle;
  readonly pool: Pool;
  readonly settings: BatchSettings;
  /** Called with each verdict when it is found. */
  readonly onVerdict: (verdict: Verdict) => void;
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
  const present = [...jobs.map(({ upload }) => upload), ...waiting];
  const gone = await settleGone(
    {
      ids: new Set(present.map(({ id }) => id)),
      paths: new Set(present.map(({ path }) => path)),
      refused: new Set(unfit.map(({ id }) => id)),
    },
    context,
  );
  const verdicts = await refuseUnfit(unfit, context);
  for (const upload of waiting) verdicts.push(await letWait(upload, undefined, context));
  const listed = new Set(verdicts.map(({ entry }) => entry.file));
  verdicts.push(...gone.filter(({ entry }) => !listed.has(entry.file)));
  verdicts.forEach(context.onVerdict);
  const told = <Result extends Verdict | FitJob | Exceeded>(result: Result): Result => {
    if ("entry" in result) context.onVerdict(result);
    return result;
  };
  const surveyed = await runWithinMemory<SurveyedJob, Verdict | FitJob>(
    jobs.map((job) => ({ job, needBytes: SURVEY_BYTES })),
    context.settings,
    async ({ job }, bytes) => told(await surveyJob(job, bytes, context)),
    async ({ job }) => told(await refuseForMemory(job, await hashOf(job, context), context)),
  );
  for (const each of surveyed) if ("entry" in each) verdicts.push(each);
  const fit = surveyed.filter((each) => "job" in each);
  const onPrepared = countProgress(verdicts.length, fit, context.onProgress);
  const prepared = await runWithinMemory<FitJob, Verdict>(
    fit,
    context.pool.room,
    async (each, bytes) => {
      const verdict = await prepareJob(each, bytes, context);
      if (!("exceeded" in verdict)) onPrepared(each);
      return told(verdict);
    },
    async (each) => {
      onPrepared(each);
      return told(await refuseForMemory(each.job, each.contentSha256, context));
    },
  );
  return [...verdicts, ...prepared].sort((a, b) => naturalOrder(a.entry.file, b.entry.file));
}

/** Refuse uploads with unusable options. Their files from an earlier run are removed, so that nobody takes them for the result. */
async function refuseUnfit(unfit: readonly Unfit[], { ledger, settle }: PassContext): Promise<Verdict[]> {
  const verdicts: Verdict[] = [];
  for (const { id, code, message, fromSheet } of unfit) {
    const record = refusedRecord(id, { refused: { code, message } });
    const before = ledger.get(id);
    if (before?.outputs.length && !isAside(before)) await settle(record);
    verdicts.push(verdictOf(record, fromSheet));
  }
  return verdicts;
}

/**
 * Let an upload wait for its row, or for the rest of its file. What an earlier run made of it was not wrong, but nobody may take it for
 * the answer: it moves aside.
 */
async function letWait(
  upload: Upload,
  fromSheet: FromSheet | undefined,
  context: PassContext,
  entryOf = waitingEntry,
): Promise<Verdict> {
  const before = context.ledger.get(upload.id);
  const record = waitingRecord(upload, before && (await outputsAside(before, context)), entryOf);
  if (before) await context.ledger.set(record);
  return verdictOf(record, fromSheet);
}

/** Faults that a file has as long as it is not complete. */
const MAY_BE_INCOMPLETE = ["INPUT_EMPTY", "INPUT_DAMAGED", "INPUT_CHANGING", "INPUT_UNREADABLE", "DAMAGED"];

/** Whether a fault may go away by itself, because the upload may still be arriving. */
const mayPass = ({ upload }: Job, codes: readonly string[]): boolean =>
  upload.arrival === "assumed" && codes.some((code) => MAY_BE_INCOMPLETE.includes(code));

const letArrive = ({ upload, fromSheet }: Job, context: PassContext): Promise<Verdict> =>
  letWait(upload, fromSheet, context, arrivingEntry);

async function surveyJob(
  job: Job,
  bytes: number,
  context: PassContext,
): Promise<Verdict | FitJob | Exceeded> {
  const { ledger, pool, settings, out } = context;
  if (job.upload.arrival === "paused") return letArrive(job, context);
  const record = ledger.get(job.upload.id);
  const isKnown = record && answersJob(record, job) && holdsWithin(record, settings);
  const task = { upload: job.upload, limits: settings.limits, out, ...(isKnown && { known: record }) };
  const survey = await pool.survey(task, bytes);
  if ("exceeded" in survey) return survey;
  if ("refused" in survey) {
    // A verdict of time is remembered with the content.
    const isLate = survey.maxSeconds !== undefined;
    return refuse(job, isLate ? { ...survey, contentSha256: await hashOf(job, context) } : survey, context);
  }
  if ("unchanged" in survey) return verdictOf(survey.unchanged, job.fromSheet, true);
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
  const { upload, options, asGiven, output, jobSha256, fromSheet } = job;
  const folder = join(context.work, contentSha256.slice(0, 16) + jobSha256.slice(0, 16));
  const { limits } = context.settings;
  const stem = basename(output);
  const task = { upload, limits, options, asGiven, contentSha256, folder, stem };
  // A worker that was ended may have left files.
  await rm(folder, { recursive: true, force: true });
  const prepared = await context.pool.prepare(task, bytes);
  if ("exceeded" in prepared) return prepared;
  if ("refused" in prepared) return refuse(job, prepared, context);
  const found = prepared.findings.map(({ code }) => code);
  if (mayPass(job, found)) return letArrive(job, context);
  const record = preparedRecord(upload, job, contentSha256, prepared);
  await context.settle(record, folder);
  return verdictOf(record, fromSheet);
}

async function refuse(job: Job, refusal: Refusal, context: PassContext): Promise<Verdict> {
  if (mayPass(job, [refusal.refused.code])) return letArrive(job, context);
  const record = refusedRecord(job.upload.id, refusal, job.jobSha256);
  await context.settle(record);
  return verdictOf(record, job.fromSheet);
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
