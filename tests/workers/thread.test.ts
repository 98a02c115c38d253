/*
 * If a thread ends for any reason, its calls fail. Threads start only from the built package.
 */
import { afterEach, describe, expect, it } from "vitest";

type Workers = typeof import("../../src/workers/thread.js");
type Lanes = typeof import("../../src/sweep/lanes.js");
type BurnThread = typeof import("../../src/pipeline/burn/burn-thread.js");
type Jobs = typeof import("../../src/pipeline/job.js");
type Options = typeof import("../../src/options/options.js");

const built = <Module>(path: string): Promise<Module> =>
  import(new URL(`../../dist/${path}`, import.meta.url).href);
const { startThread } = await built<Workers>("workers/thread.js");
const { inLanes } = await built<Lanes>("sweep/lanes.js");
const { startBurnThread } = await built<BurnThread>("pipeline/burn/burn-thread.js");
const { createJob } = await built<Jobs>("pipeline/job.js");
const { resolveOptions } = await built<Options>("options/options.js");

const entry = new URL("./dying-worker.mjs", import.meta.url);
const threads: ReturnType<Workers["startThread"]>[] = [];
function start() {
  const thread = startThread(entry, {
    data: {},
    services: { greet: (name: string) => `greets ${name}` },
    resourceLimits: { maxOldGenerationSizeMb: 32 },
  });
  threads.push(thread);
  return thread;
}
afterEach(() => {
  for (const thread of threads.splice(0)) thread.close();
});

describe("a thread", () => {
  it("answers, and may ask while it does", async () => {
    expect(await start().call("answer", "one")).toBe("one greets one");
  });

  it.each(["exit", "throw", "memory"])("that ends is not waited for: %s", async (how) => {
    const { call } = start();
    const waiting = [call("answer", how), call("answer", how)];
    for (const each of waiting) await expect(each).rejects.toMatchObject({ code: "INTERNAL" });
    await expect(call("answer", "later")).rejects.toMatchObject({ code: "INTERNAL" });
  });

  it("goes on after an answer that cannot be cloned, and after an error", async () => {
    const { call } = start();
    await expect(call("answer", "uncloneable")).rejects.toMatchObject({ code: "INTERNAL" });
    await expect(call("answer", "error")).rejects.toMatchObject({
      code: "INTERNAL",
      message: "told as it is",
    });
    await expect(call("answer", "details")).rejects.toMatchObject({
      code: "OPTION_INVALID",
      message: "told without its details",
    });
    expect(await call("answer", "two")).toBe("two greets two");
  });

  it("does not take a request that cannot be cloned", async () => {
    await expect(start().call("answer", () => {})).rejects.toThrow(/clone/);
  });
});

describe("half a job on a thread", () => {
  it("that is ended in the middle of its work rejects", async () => {
    const stage = startBurnThread(createJob(resolveOptions({ linesPerInch: 508 })));
    const curve = stage.measureCurve("floyd-steinberg");
    stage.close();
    await expect(curve).rejects.toMatchObject({ code: "INTERNAL" });
    await expect(stage.end()).rejects.toMatchObject({ code: "INTERNAL" });
  });
});

describe("lanes", () => {
  const run = async (asked: readonly string[]) => {
    const answers: string[] = [];
    const work = {
      begin: () => (how: string) => Promise.resolve(how),
      entry,
      data: {},
      costOf: () => 1,
    };
    await inLanes(asked, work, { threads: 2 }, (answer, index) => {
      answers[index] = answer;
    });
    return answers;
  };

  it.each(["exit", "throw"])("are not waited for when one dies: %s", async (how) => {
    await expect(run([how, how, how])).rejects.toMatchObject({ code: "INTERNAL" });
  });
});
