import { type FileHandle, mkdir, open as openFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { SpotpitchError } from "../core/errors.js";
import { refused, systemCode } from "./refusals.js";

/** The files of one job. They have temporary names until all are complete. */
export interface OutputSet {
  /** Append to a file of the set. Throws `OUTPUT_UNWRITABLE` and then leaves nothing. */
  readonly write: (name: string, bytes: Uint8Array | string) => Promise<void>;
  /** Rename every written file to its own name. Returns their paths. Throws `OUTPUT_UNWRITABLE` and then leaves nothing. */
  readonly complete: () => Promise<string[]>;
  /** Remove the written files after a failure. */
  readonly abandon: () => Promise<void>;
}

interface OpenFile {
  readonly path: string;
  readonly temporary: string;
  readonly handle: FileHandle;
}

/**
 * Write all files of a job or none. Each file has a temporary name until the last one is complete. A missing folder is made.
 * Throws `OUTPUT_UNWRITABLE`.
 *
 * @param names of every file that may be written
 */
export async function openOutputSet(folder: string, names: readonly string[]): Promise<OutputSet> {
  // A folder of that name allows a file to be written, but not to be renamed. Found early, it costs no earlier result.
  for (const name of names) {
    if (await isFolder(join(folder, name))) throw unwritable(join(folder, name), "a folder has that name");
  }
  const open = new Map<string, OpenFile>();
  const renamed: string[] = [];
  const abandon = async (): Promise<void> => {
    for (const { handle } of open.values()) await handle.close().catch(() => {});
    const left = [...[...open.values()].map(({ temporary }) => temporary), ...renamed];
    await Promise.all(left.map((path) => rm(path, { force: true })));
    open.clear();
  };
  const orAbandon = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      await abandon();
      throw unwritable(folder, reasonOf(error), error);
    }
  };
  const fileNamed = async (name: string): Promise<OpenFile> => {
    const known = open.get(name);
    if (known) return known;
    // The folder is made with the first file, so a refused job leaves no folder behind.
    await ensureFolder(folder);
    const temporary = join(folder, `.${name}.${process.pid}.part`);
    const made = { path: join(folder, name), temporary, handle: await openFile(temporary, "wx") };
    open.set(name, made);
    return made;
  };
  return {
    abandon,
    write: (name, bytes) =>
      orAbandon(async () => void (await (await fileNamed(name)).handle.writeFile(bytes))),
    complete: () =>
      orAbandon(async () => {
        for (const { handle } of open.values()) await handle.close();
        for (const { temporary, path } of open.values()) {
          await rename(temporary, path);
          renamed.push(path);
        }
        return renamed;
      }),
  };
}

/**
 * Check before any long work that files can be written to a folder, or that it can be made. Leaves nothing behind.
 * Throws `OUTPUT_UNWRITABLE`.
 */
export async function checkFolder(folder: string): Promise<void> {
  const probe = join(await nearestExisting(folder), `.spotpitch.${process.pid}.part`);
  try {
    await writeFile(probe, "");
    await rm(probe);
  } catch (error) {
    throw unwritable(folder, reasonOf(error), error);
  }
}

/** The path, or its nearest parent that exists. */
async function nearestExisting(path: string): Promise<string> {
  try {
    await stat(path);
    return path;
  } catch {
    const parent = dirname(path);
    return parent === path ? path : nearestExisting(parent);
  }
}

/** One level at a time: `mkdir` with `recursive` never returns for a folder below /proc (Node 20.20). */
async function ensureFolder(folder: string): Promise<void> {
  if (await isFolder(folder)) return;
  const parent = dirname(folder);
  if (parent !== folder) await ensureFolder(parent);
  try {
    await mkdir(folder);
  } catch (error) {
    // Another run may have made it just now.
    if (!(await isFolder(folder))) throw error;
  }
}

async function isFolder(path: string): Promise<boolean> {
  try {
    return (await stat(path)).isDirectory();
  } catch {
    return false;
  }
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "permission is missing",
  EPERM: "permission is missing",
  EROFS: "the disk is read-only",
  ENOSPC: "the disk is full",
  EDQUOT: "the disk quota is used up",
  EEXIST: "a file of that name is in the way",
  ENOTDIR: "a file of that name is in the way",
  ENOENT: "no folder can be made there",
  ENAMETOOLONG: "the name is too long",
};

/** The reason of a file system error, in words. */
export function reasonOf(error: unknown): string {
  const code = systemCode(error);
  return REASONS[code] ?? code;
}

const unwritable = (path: string, reason: string, cause?: unknown): SpotpitchError =>
  refused.unwritable(path, reason, "Nothing was written; choose another folder with --out.", cause);
