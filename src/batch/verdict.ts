import type { UploadEntry } from "./entry.js";
import type { LedgerRecord } from "./records.js";

/** What a batch tells of one upload. */
export interface Verdict {
  readonly entry: UploadEntry;
  readonly thumbnail?: string | undefined;
  /** Whether an earlier run left it. */
  readonly kept: boolean;
}

/** The sheet's note is no part of the work: a changed note redoes nothing. */
export const verdictOf = (
  { entry, thumbnail }: Pick<LedgerRecord, "entry" | "thumbnail">,
  note: string | undefined,
  kept = false,
): Verdict => ({ entry: note === undefined ? entry : { ...entry, note }, thumbnail, kept });
