import { setImmediate as turn } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { PROCESS_BYTES } from "../../../src/batch/memory-need.js";
import { runWithinMemory } from "../../../src/cli/batch/within-memory.js";

interface Job {
  /** What it is estimated to need, and what it takes. */
  readonly needBytes: number;
  readonly takesBytes: number;
}

/** Runs jobs of so many bytes each with 100 bytes for all. Tells what came of each, and the most that was allowed at a time. */
async function run(...jobs: readonly (readonly [needBytes: number, takesBytes: number])[]) {
  let [allowed, most, attempts] = [0, 0, 0];
  const results = await runWithinMemory<Job, string>(
    jobs.map(([needBytes, takesBytes]) => ({ needBytes, takesBytes })),
    { workers: 3, jobBytes: 100 },
    async ({ takesBytes }, bytes) => {
      const jobBytes = bytes - PROCESS_BYTES;
      attempts++;
      allowed += jobBytes;
      most = Math.max(most, allowed);
      await turn();
      allowed -= jobBytes;
      return takesBytes > jobBytes ? { exceeded: true } : `done ${takesBytes}`;
    },
    async ({ takesBytes }) => `refused ${takesBytes}`,
  );
  return { results: results.sort(), most, attempts };
}

describe("jobs within the memory of a batch", () => {
  it("run side by side as far as it is enough", async () => {
    expect(await run([40, 40], [40, 30], [40, 20])).toEqual({
      results: ["done 20", "done 30", "done 40"],
      ...{ most: 80, attempts: 3 },
    });
  });

  it("that take more than was foreseen run again, alone, with all of it", async () => {
    expect(await run([10, 90], [10, 80], [50, 50])).toEqual({
      results: ["done 50", "done 80", "done 90"],
      ...{ most: 100, attempts: 5 },
    });
  });

  it("that take more than all of it are refused", async () => {
    expect(await run([10, 101], [100, 100])).toEqual({
      results: ["done 100", "refused 101"],
      ...{ most: 100, attempts: 3 },
    });
  });

  it("that need more than all of it are refused without an attempt", async () => {
    expect(await run([101, 1], [5, 5])).toEqual({ results: ["done 5", "refused 1"], most: 5, attempts: 1 });
  });
});
