import type { Stats } from "node:fs";
import { lstat, mkdir, readdir, readFile, rename, rm, rmdir } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { OutputFile } from "../../batch/outcome.js";
import { givenUp, type LedgerRecord } from "../../batch/records.js";
import { sha256 } from "../../batch/sha256.js";
import type { Ledger } from "./ledger.js";

/** Put a verdict into effect. `from` is the folder in which a job has written its files. */
export type Settle = (record: LedgerRecord, from?: string) => Promise<void>;

/**
 * Verdicts take effect one after another: new files move to their places, files that the upload gives up are removed, and only
 * then is the record written. A run that is killed in between leaves no record, or one that does not agree with the files; the
 * next run then does the work again. A file is removed only while it is the upload's own: it holds what the record says, and no
 * other upload's record says the same.
 */
export function createSettle(out: string, ledger: Ledger): Settle {
  const settle: Settle = async (record, from) => {
    const id = record.entry.file;
    if (from !== undefined) await installFiles(from, out, record.outputs);
    for (const output of givenUp(ledger.get(id), record)) {
      if (!ledger.isShared(id, output) && (await mayRemove(out, output))) await removeFile(out, output.path);
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

/** Move finished files from a job's own folder to their places below the output folder. */
async function installFiles(from: string, out: string, outputs: readonly OutputFile[]): Promise<void> {
  for (const { path } of outputs) {
    await mkdir(dirname(join(out, path)), { recursive: true });
    await rename(join(from, basename(path)), join(out, path));
  }
  await rmdir(from);
}

/** Whether a file is intact, and in the output folder itself: what is behind a link to another folder is not ours to remove. */
async function mayRemove(out: string, output: OutputFile): Promise<boolean> {
  for (let folder = dirname(output.path); folder !== "."; folder = dirname(folder)) {
    if ((await statsOf(out, folder))?.isSymbolicLink()) return false;
  }
  return isIntact(out, output);
}

/** Whether a file is in its place and holds what it held. */
async function isIntact(out: string, { path, sha256: wanted }: OutputFile): Promise<boolean> {
  if (!(await statsOf(out, path))?.isFile()) return false;
  const bytes = await readFile(join(out, path)).catch(() => undefined);
  return bytes !== undefined && sha256(bytes) === wanted;
}

export async function areIntact(out: string, outputs: readonly OutputFile[]): Promise<boolean> {
  for (const output of outputs) if (!(await isIntact(out, output))) return false;
  return true;
}

/** Remove a file, and the folders that are empty then. */
async function removeFile(out: string, path: string): Promise<void> {
  await rm(join(out, path), { force: true });
  for (let folder = dirname(path); folder !== "."; folder = dirname(folder)) {
    const left = await readdir(join(out, folder)).catch(() => [""]);
    if (left.length > 0) return;
    await rmdir(join(out, folder));
  }
}

/** Of a path itself, wherever it links to. Undefined where there is nothing, and for what is no path. */
const statsOf = (out: string, path: string): Promise<Stats | undefined> =>
  lstat(join(out, path)).catch(() => undefined);
