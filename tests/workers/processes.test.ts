/*
 * If a process ends for any reason, its call fails, and another process replaces it.
 */
import { afterAll, describe, expect, it } from "vitest";
import { WorkerDied } from "../../src/workers/link.js";
import { openProcesses } from "../../src/workers/processes.js";

const { call, close } = openProcesses(new URL("./dying-process.mjs", import.meta.url), 1);
afterAll(close);
const never = new AbortController().signal;

describe("a process", () => {
  it.each(["exit", "kill", "uncloneable"])("that ends is not waited for: %s", async (how) => {
    const lost = call(how, undefined, never);
    await expect(lost).rejects.toBeInstanceOf(WorkerDied);
    await expect(lost).rejects.toMatchObject({ code: "INTERNAL" });
    expect(await call("answer", "the next", never)).toBe("greets the next");
  });

  it("that never ends is ended by a signal", async () => {
    const stop = new AbortController();
    const waiting = call("late", undefined, stop.signal);
    setTimeout(() => stop.abort(new Error("enough")), 200);
    await expect(waiting).rejects.toThrow("enough");
    expect(await call("answer", "the next", never)).toBe("greets the next");
  });
});

describe("processes that all end at once", () => {
  it.each([1, 3])("are given up, whoever asks: %d", async (count) => {
    const broken = openProcesses(new URL("./broken-process.mjs", import.meta.url), count);
    const calls = ["first", "second"].map((name) => broken.call("answer", name, never));
    for (const call of calls)
      await expect(call).rejects.toMatchObject({
        code: "INTERNAL",
        message: expect.stringMatching(/^No worker process can be started/),
      });
    await broken.close();
  });
});
