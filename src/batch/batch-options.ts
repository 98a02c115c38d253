import * as z from "zod";
import { boardTable } from "../board/board-options.js";
import { fieldsOf, group } from "../options/group.js";
import { number, word } from "../options/kinds.js";
import { checkOptions } from "../options/option-error.js";
import { prepareTable } from "../options/tables.js";
import { between, oneOf, whole } from "../options/takes.js";
import { defaultLimits, type UploadLimits } from "./limits.js";
import { PROCESS_BYTES, workersWithin } from "./memory-need.js";
import { DEFAULT_PATTERN, patternFault } from "./output-names.js";
import { type QueueSettings, queuedTable, queueSettings, queueTable, takingTable } from "./queue-options.js";

const PATTERN_WORDS = "a pattern of {folder}, {stem}, {ext}, {material} and /";
const pattern = z.string(PATTERN_WORDS).superRefine((given, context) => {
  const fault = patternFault(given);
  if (fault === undefined) return;
  context.addIssue(`${PATTERN_WORDS} (here ${fault})`);
});

const runOptions = group("Batch", {
  pattern: word(
    "--names <pattern>",
    pattern.default(DEFAULT_PATTERN),
    "where an upload's files go, without their endings; {stem} alone puts all in one folder",
  ),
  unlisted: word(
    "--unlisted <how>",
    oneOf(["wait", "prepare"]).default("wait"),
    "an upload that no row of the job sheet names: wait, and be listed; or prepare it with the options that all share",
  ),
  workers: number("--workers <n>", whole(1, 64).optional(), "uploads prepared at the same time", {
    otherwise: "as many as the computer has processors",
  }),
  memoryGb: number(
    "--memory <GB>",
    between(0.4, 4096).optional(),
    "memory that all workers together may use; large uploads wait for it, larger ones are refused, and fewer workers run if it is little",
    { otherwise: "half of the computer's" },
  ),
  maxMegapixels: number(
    "--max-megapixels <n>",
    between(0.01, 268).default(defaultLimits.maxPixels / 1e6),
    "refuse larger pictures",
  ),
  maxFileSizeMb: number(
    "--max-file-size <MB>",
    between(0.001, 4000).default(defaultLimits.maxBytes / 1e6),
    "refuse larger files",
  ),
  maxSeconds: number(
    "--max-seconds <n>",
    between(1, 86400).default(defaultLimits.maxSeconds),
    "give up an upload that takes longer",
  ),
});

/** Options of a batch beyond those of its pieces. */
const ownOptions = { ...runOptions, ...queueTable, ...queuedTable, ...boardTable };

/** Options of `batch`: its own, and those of `prepare`. */
export const batchTable = { ...ownOptions, ...prepareTable };
export const batchSchema = z.strictObject(fieldsOf(batchTable));
const ownSchema = z.object(fieldsOf(ownOptions));

export type BatchOptions = z.input<typeof batchSchema>;

/** Options of `worker`: the queue, and what of this computer it may use. */
export const workerTable = {
  ...queueTable,
  workers: { ...runOptions.workers, help: "jobs at the same time" },
  memoryGb: {
    ...runOptions.memoryGb,
    help: "memory that all jobs together may use; give each worker at least as much as the batch",
  },
  ...takingTable,
};
export const workerSchema = z.strictObject(fieldsOf(workerTable));

export interface BatchSettings {
  readonly pattern: string;
  /** What happens to an upload that no row of a job sheet names. */
  readonly unlisted: "wait" | "prepare";
  readonly workers: number;
  /** Bytes that all workers together may take. */
  readonly memoryBytes: number;
  /** What of it is left for their jobs, beside the processes themselves. */
  readonly jobBytes: number;
  readonly limits: UploadLimits;
  /** How often each piece is laid, if its row does not say it. */
  readonly copies: number;
  /** Undefined if all work is done on this computer. */
  readonly queue?: QueueSettings | undefined;
}

/** A batch's own options, with defaults from the computer. */
export function batchSettings(
  options: BatchOptions,
  processors: number,
  totalMemoryBytes: number,
): BatchSettings {
  const own = checkOptions(ownSchema, options);
  return {
    pattern: own.pattern,
    unlisted: own.unlisted,
    ...shareOf(own, processors, totalMemoryBytes),
    limits: {
      maxPixels: own.maxMegapixels * 1e6,
      maxBytes: own.maxFileSizeMb * 1e6,
      maxSeconds: own.maxSeconds,
    },
    copies: own.copies,
    queue: queueSettings(own),
  };
}

/** What of a computer worker processes may take: as asked, or by default its processors and half of its memory. */
export function shareOf(
  asked: { readonly workers?: number | undefined; readonly memoryGb?: number | undefined },
  processors: number,
  totalMemoryBytes: number,
): Pick<BatchSettings, "workers" | "memoryBytes" | "jobBytes"> {
  const memoryBytes = asked.memoryGb === undefined ? totalMemoryBytes / 2 : asked.memoryGb * 1e9;
  const workers = workersWithin(memoryBytes, asked.workers ?? processors);
  return { workers, memoryBytes, jobBytes: memoryBytes - workers * PROCESS_BYTES };
}
