import * as z from "zod";
import { fieldsOf, group } from "../options/option.js";
import { assertOptions, checkOptions } from "../options/option-error.js";
import { type PrepareOptions, prepareSchema, prepareTable } from "../options/tables.js";
import { between, whole } from "../options/takes.js";
import * as text from "../options/text-forms.js";
import { defaultLimits, type UploadLimits } from "./limits.js";
import { DEFAULT_PATTERN, patternFault } from "./output-names.js";

const pattern = z.string().superRefine((given, context) => {
  const fault = patternFault(given);
  if (fault === undefined) return;
  context.addIssue(`a pattern of {folder}, {stem}, {ext}, {material} and / (here ${fault})`);
});

/** What a batch is told beyond the options of its pieces. */
const ownOptions = group("Batch", {
  pattern: {
    flag: "--names <pattern>",
    text: text.plainText,
    takes: pattern.default(DEFAULT_PATTERN),
    help: "where an upload's files go, without their endings; {stem} alone puts all in one folder",
  },
  workers: {
    flag: "--workers <n>",
    text: text.number,
    takes: whole(1, 64).optional(),
    help: "uploads prepared at the same time",
    otherwise: "as many as the computer has processors",
  },
  memoryGb: {
    flag: "--memory <GB>",
    text: text.number,
    takes: between(0.25, 4096).optional(),
    help: "memory that all workers may take; large uploads wait for it",
    otherwise: "half of the computer's",
  },
  maxMegapixels: {
    flag: "--max-megapixels <n>",
    text: text.number,
    takes: between(0.01, 268).default(defaultLimits.mostPixels / 1e6),
    help: "refuse larger pictures",
  },
  maxFileSizeMb: {
    flag: "--max-file-size <MB>",
    text: text.number,
    takes: between(0.001, 4000).default(defaultLimits.mostBytes / 1e6),
    help: "refuse larger files",
  },
  maxSeconds: {
    flag: "--max-seconds <n>",
    text: text.number,
    takes: between(1, 86400).default(defaultLimits.mostSeconds),
    help: "give up an upload that takes longer",
  },
});

/** Options of `batch`: its own, and those of `prepare`. */
export const batchTable = { ...ownOptions, ...prepareTable };
export const batchSchema = z.strictObject(fieldsOf(batchTable));
const ownSchema = z.object(fieldsOf(ownOptions));

export type BatchOptions = z.input<typeof batchSchema>;

export interface BatchSettings {
  readonly pattern: string;
  readonly workers: number;
  /** Bytes that all workers together may take. */
  readonly memoryBytes: number;
  readonly limits: UploadLimits;
}

/** What a batch's own options say, for a computer. */
export function batchSettings(
  options: BatchOptions,
  processors: number,
  totalMemoryBytes: number,
): BatchSettings {
  const own = checkOptions(ownSchema, options);
  return {
    pattern: own.pattern,
    workers: own.workers ?? processors,
    memoryBytes: own.memoryGb === undefined ? totalMemoryBytes / 2 : own.memoryGb * 1e9,
    limits: {
      mostPixels: own.maxMegapixels * 1e6,
      mostBytes: own.maxFileSizeMb * 1e6,
      mostSeconds: own.maxSeconds,
    },
  };
}

/** Without what only the batch is told. */
export function pieceOptions(options: BatchOptions): PrepareOptions {
  const piece: unknown = Object.fromEntries(
    Object.entries(options).filter(([name]) => !(name in ownOptions)),
  );
  assertOptions(prepareSchema, piece);
  return piece;
}
