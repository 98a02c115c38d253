import { availableParallelism } from "node:os";
import { afterAll, describe, expect, it } from "vitest";
import { photographPath } from "../pipeline/photograph.js";
import { namesIn, spotpitchWith, temporaryFolder } from "./command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const preload = new URL("dying-thread.mjs", import.meta.url).href;
const photo = photographPath("nagasaki-boats");

/** What comes of it: the thread's own error, or that it is gone. */
const SAID = {
  error: /^spotpitch: .*The thread fell over\.\n$/,
  exit: /^spotpitch: .*ended before its work was done.*\n$/,
} as const;

// On a single core no thread is started.
describe.skipIf(availableParallelism() < 2)("a thread that ends while its answer is awaited", () => {
  const jobs = [
    ["prepare", ["--width", "60mm", "--height", "60mm", "--density", "508", "--method", "floyd-steinberg"]],
    ["plan", ["--width", "8mm"]],
    ["compare", ["--width", "8mm", "--method", "floyd-steinberg,green-noise"]],
  ] as const;

  it.each(
    jobs.flatMap(([command, options]) =>
      (["error", "exit"] as const).map((how) => ({ command, how, options })),
    ),
  )(
    "ends $command with status 1 and a message, and nothing is written: by $how",
    async ({ command, how, options }) => {
      const out = folder.in(`${command}-${how}`);
      const env = { NODE_OPTIONS: `--import=${preload}`, THREADS_END_BY: how };
      const ended = await spotpitchWith(env, command, photo, ...options, "--out", out);
      expect(ended).toMatchObject({ status: 1, stderr: expect.stringMatching(SAID[how]) });
      expect([ended.stdout, namesIn(out)]).toEqual(["", []]);
    },
  );
});
