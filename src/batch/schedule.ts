/** Work that takes memory. */
export interface Sized {
  readonly needBytes: number;
}

/**
 * Run up to `workers` jobs in parallel, the largest first, within `memoryBytes` for all running jobs: only small jobs start beside a
 * large one. A job that needs more than the whole memory runs alone. Results are in the order in which jobs end. After a failure
 * no further job starts, and the promise rejects with the first failure when no job runs any more.
 */
export function schedule<Job extends Sized, Result>(
  jobs: readonly Job[],
  { workers, memoryBytes }: { readonly workers: number; readonly memoryBytes: number },
  work: (job: Job) => Promise<Result>,
): Promise<Result[]> {
  const waiting = [...jobs].sort((a, b) => b.needBytes - a.needBytes);
  const results: Result[] = [];
  return new Promise((resolve, reject) => {
    let running = 0;
    let usedBytes = 0;
    let failure: { readonly error: unknown } | undefined;
    const run = async (job: Job): Promise<void> => {
      running++;
      usedBytes += job.needBytes;
      try {
        results.push(await work(job));
      } catch (error) {
        failure ??= { error };
      }
      running--;
      usedBytes -= job.needBytes;
      startNext();
    };
    const startNext = (): void => {
      while (!failure && running < workers) {
        const fitting = waiting.findIndex(
          ({ needBytes }) => running === 0 || usedBytes + needBytes <= memoryBytes,
        );
        if (fitting < 0) break;
        const [job] = waiting.splice(fitting, 1);
        run(job);
      }
      if (running > 0) return;
      if (failure) reject(failure.error);
      else resolve(results);
    };
    startNext();
  });
}
