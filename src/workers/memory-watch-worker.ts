/** The thread of a memory watch. See `memory-limit.ts`. */
import { writeFileSync } from "node:fs";
import type { MemoryLimit } from "./memory-limit.js";
import { serveThread } from "./thread.js";

/** A decoder takes some 2 GB in a second at most: 40 MB between two looks. */
const LOOK_MS = 20;

function look({ bytes, mark }: MemoryLimit): void {
  if (process.memoryUsage.rss() <= bytes) return;
  try {
    writeFileSync(mark, "");
  } finally {
    process.kill(process.pid, "SIGKILL");
  }
}

serveThread<undefined>(() => {
  let looking: NodeJS.Timeout | undefined;
  return {
    watch(limit: MemoryLimit) {
      clearInterval(looking);
      looking = setInterval(look, LOOK_MS, limit);
    },
    rest: () => clearInterval(looking),
  };
});
