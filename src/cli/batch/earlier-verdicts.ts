import { type PassResult, type Verdict, verdictOf } from "../../batch/lists.js";
import { answersJob } from "../../batch/records.js";
import { naturalOrder } from "../../core/natural-order.js";
import type { BoundJobs } from "./jobs.js";
import type { Ledger } from "./ledger.js";

/**
 * The verdicts of a pass so far, in natural order, and those of an earlier run on what it has not come to: nobody loses the list of a
 * whole folder because a second run was stopped early.
 */
export function withEarlier(
  found: readonly Verdict[],
  { jobs, unfit, waiting }: BoundJobs,
  ledger: Pick<Ledger, "get">,
): Required<Pick<PassResult, "verdicts" | "remaining">> {
  const listed = new Set(found.map(({ entry }) => entry.file));
  const earlier = jobs.flatMap((job) => {
    const record = listed.has(job.upload.id) ? undefined : ledger.get(job.upload.id);
    return record && answersJob(record, job) ? [verdictOf(record, job.fromSheet, true)] : [];
  });
  const verdicts = [...found, ...earlier].sort((a, b) => naturalOrder(a.entry.file, b.entry.file));
  const known = new Set(verdicts.map(({ entry }) => entry.file));
  const open = [...jobs.map(({ upload }) => upload), ...unfit, ...waiting].filter(({ id }) => !known.has(id));
  return { verdicts, remaining: open.length };
}
