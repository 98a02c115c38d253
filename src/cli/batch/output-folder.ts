import type { Stats } from "node:fs";
import { lstat, mkdir, readdir, readFile, rename, rm, rmdir } from "node:fs/promises";
import { basename, dirname, join, posix } from "node:path";
import type { OutputFile } from "../../batch/outcome.js";
import { SET_ASIDE } from "../../batch/output-names.js";
import { givenUp, type LedgerRecord } from "../../batch/records.js";
import { sha256 } from "../../batch/sha256.js";
import type { Ledger } from "./ledger.js";

/** Remove every board on which an upload lies. */
export type WithdrawBoards = (id: string) => Promise<void>;

/** Apply a verdict. `from` is the folder with the files of the job. */
export type Settle = (record: LedgerRecord, from?: string) => Promise<void>;

/**
 * Apply verdicts one after another. New files move to their places, and files that the upload no longer has are removed. Then the
 * record is written. If a run is killed in between, there is no record, or it does not match the files, and the next run does the
 * work again. A file is removed only if it has the content of the upload's record, and no other upload's record lists the same.
 *
 * @param withdrawBoards called before the files of an upload change
 */
export function createSettle(out: string, ledger: Ledger, withdrawBoards: WithdrawBoards): Settle {
  const settle: Settle = async (record, from) => {
    const id = record.entry.file;
    if (from !== undefined || givenUp(ledger.get(id), record).length > 0) await withdrawBoards(id);
    if (from !== undefined) await installFiles(from, out, record.outputs);
    for (const output of givenUp(ledger.get(id), record)) {
      if (!ledger.isShared(id, output)) await removeOwn(out, output);
    }
    await ledger.set(record);
  };
  let last: Promise<void> = Promise.resolve();
  return (record, from) => {
    const settled = last.then(() => settle(record, from));
    last = settled.catch(() => {});
    return settled;
  };
}

/**
 * Move what was made of an upload that is gone into the folder for such files. Files that were changed since stay: they are the
 * user's. Returns where the others lie now.
 */
export async function setAside(
  out: string,
  ledger: Ledger,
  { entry, outputs }: LedgerRecord,
): Promise<OutputFile[]> {
  const moved: OutputFile[] = [];
  for (const output of outputs) {
    if (ledger.isShared(entry.file, output) || !(await mayRemove(out, output))) continue;
    const path = await freeAside(out, output.path);
    await mkdir(dirname(join(out, path)), { recursive: true });
    await rename(join(out, output.path), join(out, path));
    await removeFile(out, output.path);
    moved.push({ path, sha256: output.sha256 });
  }
  return moved;
}

/** A place among the files set aside where nothing is yet: a file of an earlier upload may have the same name. */
async function freeAside(out: string, path: string): Promise<string> {
  for (let n = 1; ; n++) {
    const place = posix.join(SET_ASIDE, ...(n === 1 ? [] : [String(n)]), path);
    if (!(await statsOf(out, place)) && !(await isBehindLink(out, place))) return place;
  }
}

/**
 * A file that was written, and the hash of its content.
 *
 * @param folder where it will lie below the output folder
 */
export const outputFile = async (path: string, folder = ""): Promise<OutputFile> => ({
  path: posix.join(folder, basename(path)),
  sha256: sha256(await readFile(path)),
});

/** Move finished files from a job's own folder to their places below the output folder. */
async function installFiles(from: string, out: string, outputs: readonly OutputFile[]): Promise<void> {
  for (const { path } of outputs) {
    await mkdir(dirname(join(out, path)), { recursive: true });
    await rename(join(from, basename(path)), join(out, path));
  }
  await rmdir(from);
}

/** Remove a file if it is still as it was written. */
export async function removeOwn(out: string, output: OutputFile): Promise<void> {
  if (await mayRemove(out, output)) await removeFile(out, output.path);
}

/** Whether a file is intact and really in the output folder, not in another folder behind a link. */
async function mayRemove(out: string, output: OutputFile): Promise<boolean> {
  return !(await isBehindLink(out, output.path)) && isIntact(out, output);
}

async function isBehindLink(out: string, path: string): Promise<boolean> {
  for (let folder = dirname(path); folder !== "."; folder = dirname(folder)) {
    if ((await statsOf(out, folder))?.isSymbolicLink()) return true;
  }
  return false;
}

/** Whether a file is in its place and has the recorded content. */
async function isIntact(out: string, { path, sha256: wanted }: OutputFile): Promise<boolean> {
  if (!(await statsOf(out, path))?.isFile()) return false;
  const bytes = await readFile(join(out, path)).catch(() => undefined);
  return bytes !== undefined && sha256(bytes) === wanted;
}

export async function areIntact(out: string, outputs: readonly OutputFile[]): Promise<boolean> {
  for (const output of outputs) if (!(await isIntact(out, output))) return false;
  return true;
}

/** Remove a file and the folders that are then empty. */
async function removeFile(out: string, path: string): Promise<void> {
  await rm(join(out, path), { force: true });
  for (let folder = dirname(path); folder !== "."; folder = dirname(folder)) {
    const left = await readdir(join(out, folder)).catch(() => [""]);
    if (left.length > 0) return;
    await rmdir(join(out, folder));
  }
}

/** The stats of a path; links are not followed. Undefined if nothing is there, or if it is no valid path. */
const statsOf = (out: string, path: string): Promise<Stats | undefined> =>
  lstat(join(out, path)).catch(() => undefined);
