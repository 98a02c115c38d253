import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { isRunning } from "../batch/lock.js";

const START = "spotpitch-worker-";

/**
 * A folder for unfinished files of this process, on this computer's own disk. Those of workers that were killed are removed: there are
 * customers' pictures in them.
 */
export function openWorkFolder(parent = tmpdir()): { readonly path: string; readonly remove: () => void } {
  for (const name of readdirSync(parent)) {
    const owner = name.startsWith(START) ? Number.parseInt(name.slice(START.length), 10) : Number.NaN;
    if (owner > 0 && !isRunning(owner)) rmSync(join(parent, name), { recursive: true, force: true });
  }
  const path = mkdtempSync(join(parent, `${START}${process.pid}-`));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}
