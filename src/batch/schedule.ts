/** Work that takes memory. */
export interface Sized {
  readonly needBytes: number;
}

/**
 * Run jobs side by side, the largest first, while the memory of all that run stays within the budget: beside a large one only
 * small ones begin. What needs more than the whole budget runs alone. Rejects with the first failure, when nothing runs any more.
 */
export function schedule<Job extends Sized>(
  jobs: readonly Job[],
  lanes: number,
  budgetBytes: number,
  work: (job: Job) => Promise<void>,
): Promise<void> {
  const waiting = [...jobs].sort((a, b) => b.needBytes - a.needBytes);
  return new Promise((resolve, reject) => {
    let running = 0;
    let used = 0;
    let failure: { readonly error: unknown } | undefined;
    const next = (): void => {
      while (!failure && running < lanes) {
        const fitting = waiting.findIndex(
          ({ needBytes }) => running === 0 || used + needBytes <= budgetBytes,
        );
        if (fitting < 0) break;
        const [job] = waiting.splice(fitting, 1);
        running++;
        used += job.needBytes;
        work(job)
          .catch((error: unknown) => {
            failure ??= { error };
          })
          .finally(() => {
            running--;
            used -= job.needBytes;
            next();
          });
      }
      if (running > 0) return;
      if (failure) reject(failure.error);
      else resolve();
    };
    next();
  });
}
