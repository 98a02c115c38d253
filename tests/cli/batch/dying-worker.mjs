/**
 * Loaded into every process of a batch: a worker that reads an upload named `<how>-<n>.<ending>` for the n-th time ends there, or
 * never answers. The first time it is looked at, the second time prepared. "a" stands for always.
 */
import { appendFileSync, readFileSync } from "node:fs";
import promises from "node:fs/promises";
import { syncBuiltinESMExports } from "node:module";
import { basename } from "node:path";

const never = new Promise(() => {});

const ENDS = {
  crash: () => process.abort(),
  kill: () => process.kill(process.pid, "SIGKILL"),
  throw: () =>
    setImmediate(() => {
      throw new Error("The decoder fell over.");
    }),
  wait: () => {},
  /** Takes memory without an end that a test would reach. */
  grow: () => {
    const taken = [];
    for (let mb = 0; mb < 3000; mb += 20) taken.push(Buffer.alloc(20e6, 1));
  },
  /** Deaf to signals, and no longer than a test takes. */
  spin: () => {
    process.on("SIGTERM", () => {});
    for (const end = Date.now() + 60_000; Date.now() < end; );
  },
};

const { open } = promises;
promises.open = async (path, ...more) => {
  const name = basename(String(path));
  const [, how, time] = /^([a-z]+)-([12a])\./.exec(name) ?? [];
  if (process.send && how in ENDS && (time === "a" || timesRead(name) === Number(time))) {
    ENDS[how]();
    await never;
  }
  return open(path, ...more);
};
syncBuiltinESMExports();

/** Counted in a file, since another process may have read it before. */
function timesRead(name) {
  const count = `${process.env.COUNTS_IN}/${name}`;
  appendFileSync(count, "x");
  return readFileSync(count, "utf8").length;
}
