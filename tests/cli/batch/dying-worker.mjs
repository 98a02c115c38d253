/**
 * Loaded into every process of a batch: a worker that reads an upload named `<how>-<n>.<ending>` for the n-th time ends there, or
 * never answers. The first time it is looked at, the second time prepared.
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
  /** Deaf to signals, and no longer than a test takes. */
  spin: () => {
    process.on("SIGTERM", () => {});
    for (const end = Date.now() + 60_000; Date.now() < end; );
  },
};

const { open } = promises;
promises.open = async (path, ...more) => {
  const name = basename(String(path));
  const [, how, time] = /^([a-z]+)-([12])\./.exec(name) ?? [];
  if (process.send && how in ENDS && timesRead(name) === Number(time)) {
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
