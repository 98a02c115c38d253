import { closeSync, openSync, readFileSync, rmSync, writeSync } from "node:fs";
import { refused } from "../refusals.js";

/**
 * Allow one run at a time in a folder. It takes over a lock whose process has ended, and returns the function that unlocks.
 * Throws `OUTPUT_BUSY`.
 */
export function lock(path: string): () => void {
  for (let attempt = 1; ; attempt++) {
    try {
      const file = openSync(path, "wx");
      writeSync(file, String(process.pid));
      closeSync(file);
      return () => rmSync(path, { force: true });
    } catch (error) {
      if (!(error instanceof Error && "code" in error && error.code === "EEXIST") || attempt === 3)
        throw error;
    }
    const holder = Number.parseInt(readFileSync(path, "utf8"), 10);
    if (holder !== process.pid && isRunning(holder)) throw refused.busy(path, holder);
    rmSync(path, { force: true });
  }
}

export function isRunning(pid: number): boolean {
  if (!(pid > 0)) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && "code" in error && error.code === "EPERM";
  }
}
