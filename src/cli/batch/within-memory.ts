import { PROCESS_BYTES } from "../../batch/memory-need.js";
import { type Sized, schedule } from "../../batch/schedule.js";

/** A worker process was ended because it held more memory than its task was given. */
export interface Exceeded {
  readonly exceeded: true;
}

/** How many jobs run side by side, and the memory that they may take, beside what the worker processes take without one. */
export interface JobMemory {
  readonly workers: number;
  /** For a job that runs alone. */
  readonly jobBytes: number;
  /** For all together. By default as much as for one: they run on one computer. */
  readonly togetherBytes?: number;
}

/** One job within as many bytes as its process may hold. */
type Attempt<Job, Result> = (job: Job, bytes: number) => Promise<Result | Exceeded>;

const isExceeded = (result: unknown): result is Exceeded =>
  typeof result === "object" && result !== null && "exceeded" in result;

/**
 * Run jobs side by side, each within what it needs by the estimate. A job that exceeds it is run again alone, with all the memory
 * there is. What exceeds that too, or needs more from the start, is refused.
 */
export async function runWithinMemory<Job extends Sized, Result>(
  jobs: readonly Job[],
  { workers, jobBytes, togetherBytes = jobBytes }: JobMemory,
  attempt: Attempt<Job, Result>,
  refuse: (job: Job) => Promise<Result>,
): Promise<Result[]> {
  const memory = { workers, memoryBytes: togetherBytes };
  const results: Result[] = [];
  const again: Job[] = [];
  const tooLarge = jobs.filter(({ needBytes }) => needBytes > jobBytes);
  const possible = jobs.filter(({ needBytes }) => needBytes <= jobBytes);
  for (const job of tooLarge) results.push(await refuse(job));
  await schedule(possible, memory, async (job) => {
    const result = await attempt(job, PROCESS_BYTES + job.needBytes);
    if (isExceeded(result)) again.push(job);
    else results.push(result);
  });
  const alone = again.map((job) => ({ job, needBytes: jobBytes }));
  await schedule(alone, memory, async ({ job }) => {
    const result = await attempt(job, PROCESS_BYTES + jobBytes);
    results.push(isExceeded(result) ? await refuse(job) : result);
  });
  return results;
}
