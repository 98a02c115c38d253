import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { startThread, type Thread } from "./thread.js";

/** How much memory a process may hold, and the file that tells that it was ended for more. */
export interface MemoryLimit {
  readonly bytes: number;
  /** Path of an empty file, written just before the end. */
  readonly mark: string;
}

/** Work within a limit. If the process exceeds it, it ends. */
export type WithinMemory = <T>(limit: MemoryLimit, work: () => Promise<T>) => Promise<T>;

/**
 * A watch over the memory of this process, on a thread of its own: neither a decoder nor a long loop can keep it from looking. It
 * does the same on every system, and counts what the decoder's own code takes, which no limit of the runtime does.
 */
export function createMemoryWatch(): WithinMemory {
  let watch: Thread | undefined;
  const collect = garbageCollector();
  return async (limit, work) => {
    watch ??= startThread(new URL("./memory-watch-worker.js", import.meta.url), { data: undefined });
    await watch.call("watch", limit);
    try {
      return await work();
    } finally {
      await watch.call("rest");
      // What is left of one piece of work must not count as the next one's.
      collect();
    }
  };
}

function garbageCollector(): () => void {
  setFlagsFromString("--expose-gc");
  return runInNewContext("gc");
}
