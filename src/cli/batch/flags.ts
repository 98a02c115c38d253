import { defaultLimits, type UploadLimits } from "../../batch/limits.js";
import { DEFAULT_PATTERN, patternFault } from "../../batch/output-names.js";
import { invalid, parseNumber } from "../../options/quantities.js";
import { type Flag, prepareFlags } from "../flags.js";

/** What a batch is told beyond the options of its pieces. */
export interface BatchSettings {
  readonly pattern: string;
  readonly workers: number;
  /** Bytes that all workers together may take. */
  readonly memoryBytes: number;
  readonly limits: UploadLimits;
}

const group = "Batch";

export const batchOnlyFlags: readonly Flag[] = [
  {
    usage: "--names <pattern>",
    group,
    option: "pattern",
    parse: (flag, text) => {
      const fault = patternFault(text);
      if (fault === undefined) return text;
      throw invalid(flag, text, `a pattern of {folder}, {stem}, {ext}, {material} and / (here ${fault})`);
    },
    help: `where an upload's files go, without their endings; {stem} alone puts all in one folder (default: ${DEFAULT_PATTERN})`,
  },
  {
    usage: "--workers <n>",
    group,
    option: "workers",
    parse: within(1, 64, true),
    help: "uploads prepared at the same time (default: as many as the computer has processors)",
  },
  {
    usage: "--memory <GB>",
    group,
    option: "memoryGb",
    parse: within(0.25, 4096),
    help: "memory that all workers may take; large uploads wait for it (default: half of the computer's)",
  },
  {
    usage: "--max-megapixels <n>",
    group,
    option: "maxMegapixels",
    parse: within(0.01, 268),
    help: `refuse larger pictures (default: ${defaultLimits.maxPixels / 1e6})`,
  },
  {
    usage: "--max-file-size <MB>",
    group,
    option: "maxFileSizeMb",
    parse: within(0.001, 4000),
    help: `refuse larger files (default: ${defaultLimits.maxBytes / 1e6})`,
  },
  {
    usage: "--max-seconds <n>",
    group,
    option: "maxSeconds",
    parse: within(1, 86400),
    help: `give up an upload that takes longer (default: ${defaultLimits.maxSeconds})`,
  },
];

/** Options of `batch`: those of `prepare`, and its own. */
export const batchFlags: readonly Flag[] = [...batchOnlyFlags, ...prepareFlags];

/** What `batchOnlyFlags` set, with defaults for the rest. */
export function batchSettings(
  values: Readonly<Record<string, unknown>>,
  processors: number,
  totalMemoryBytes: number,
): BatchSettings {
  const numberOf = (option: string): number | undefined => {
    const value = values[option];
    return value === undefined ? undefined : Number(value);
  };
  const megapixels = numberOf("maxMegapixels");
  const megabytes = numberOf("maxFileSizeMb");
  const gigabytes = numberOf("memoryGb");
  return {
    pattern: typeof values.pattern === "string" ? values.pattern : DEFAULT_PATTERN,
    workers: numberOf("workers") ?? processors,
    memoryBytes: gigabytes === undefined ? totalMemoryBytes / 2 : gigabytes * 1e9,
    limits: {
      maxPixels: megapixels === undefined ? defaultLimits.maxPixels : megapixels * 1e6,
      maxBytes: megabytes === undefined ? defaultLimits.maxBytes : megabytes * 1e6,
      maxSeconds: numberOf("maxSeconds") ?? defaultLimits.maxSeconds,
    },
  };
}

function within(least: number, most: number, whole = false) {
  return (flag: string, text: string): number => {
    const value = parseNumber(flag, text);
    if (value >= least && value <= most && (!whole || Number.isInteger(value))) return value;
    throw invalid(flag, text, `${whole ? "a whole number from " : ""}${least} to ${most}`);
  };
}
