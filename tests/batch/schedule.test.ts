import { setImmediate as turn } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { schedule } from "../../src/batch/schedule.js";

/** Runs jobs that take one turn per byte, and returns the maximum of memory and jobs at the same time. */
async function run(needs: readonly number[], workers: number, memoryBytes: number) {
  let [used, running, most, mostRunning, done] = [0, 0, 0, 0, 0];
  await schedule(
    needs.map((needBytes) => ({ needBytes })),
    { workers, memoryBytes },
    async ({ needBytes }) => {
      used += needBytes;
      running++;
      most = Math.max(most, used);
      mostRunning = Math.max(mostRunning, running);
      for (let i = 0; i < needBytes; i++) await turn();
      used -= needBytes;
      running--;
      done++;
    },
  );
  return { most, mostRunning, done };
}

describe("schedule", () => {
  it("keeps all that runs within the budget, and uses every lane where it can", async () => {
    const needs = Array.from({ length: 40 }, (_, i) => 1 + ((i * 7) % 10));
    expect(await run(needs, 4, 20)).toEqual({ most: 20, mostRunning: 4, done: 40 });
    expect((await run(needs, 4, 1000)).mostRunning).toBe(4);
  });
  it("runs what is over the budget alone", async () => {
    expect(await run([30, 2, 2], 3, 20)).toEqual({ most: 30, mostRunning: 2, done: 3 });
  });
  it("ends with the first failure, when what runs has ended", async () => {
    let ended = 0;
    const work = async ({ needBytes }: { needBytes: number }): Promise<void> => {
      if (needBytes === 2) throw new Error("no room");
      for (let i = 0; i < 5; i++) await turn();
      ended++;
    };
    await expect(
      schedule([{ needBytes: 3 }, { needBytes: 2 }, { needBytes: 1 }], { workers: 2, memoryBytes: 9 }, work),
    ).rejects.toThrow("no room");
    expect(ended).toBe(1);
  });
});
