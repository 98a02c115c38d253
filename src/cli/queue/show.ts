import type { Meeting } from "./meeting.js";
import { PREFIX } from "./names.js";
import { connectedWorkers, type Listed } from "./roster.js";

/** What a queue holds, for those who look after it. */
export interface QueueSeen {
  readonly release: string;
  readonly workers: readonly (Listed & { readonly takesJobs: boolean })[];
  /** Jobs that no worker has taken, or that wait for another attempt. */
  readonly waiting: number;
  readonly active: number;
  /** Jobs that were refused or given up, the last ones first. */
  readonly refused: readonly RefusedJob[];
}

interface RefusedJob {
  readonly file: string;
  readonly reason: string;
  readonly at: string;
}

const MOST_REFUSED = 100;

export async function lookAtQueue({ engine, redis, queue, release, store }: Meeting): Promise<QueueSeen> {
  const jobs = new engine.Queue(queue, { connection: redis, prefix: PREFIX, skipVersionCheck: true });
  jobs.on("error", () => {});
  try {
    const counts = await jobs.getJobCounts("wait", "prioritized", "delayed", "active");
    const refused = await jobs.getFailed(0, MOST_REFUSED - 1);
    const workers = await connectedWorkers(redis);
    return {
      release,
      workers: workers.map((each) => ({
        ...each,
        takesJobs: each.release === release && each.store === store.identity,
      })),
      waiting: counts.wait + counts.prioritized + counts.delayed,
      active: counts.active,
      refused: refused.map(({ data, failedReason, finishedOn }) => ({
        file: String(data?.id ?? ""),
        reason: failedReason,
        at: new Date(finishedOn ?? 0).toISOString(),
      })),
    };
  } finally {
    await jobs.close();
  }
}

export function queueWords({ release, workers, waiting, active, refused }: QueueSeen): string {
  const workerLines = workers.map(
    ({ host, process, release: own, takesJobs }) =>
      `  ${host}, process ${process}${takesJobs ? "" : `: takes no job of this queue (${own === release ? "another store" : own})`}`,
  );
  const refusedLines = refused.map(({ file, reason, at }) => `  ${at}  ${file}: ${reason}`);
  return [
    `release       ${release}`,
    `waiting       ${waiting}`,
    `in work       ${active}`,
    `workers       ${workers.length}`,
    ...workerLines,
    `refused       ${refused.length}`,
    ...refusedLines,
    "",
  ].join("\n");
}
