import { mkdir, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { SpotpitchError } from "../core/errors.js";

export interface OutputFile {
  readonly name: string;
  readonly content: Uint8Array | string;
}

/**
 * Write all files of a job or none: each under a temporary name first, renamed only when the last one is complete.
 * The folder is made if missing. Throws `OUTPUT_UNWRITABLE`.
 */
export async function writeAllOrNone(folder: string, files: readonly OutputFile[]): Promise<string[]> {
  const planned = files.map(({ name, content }) => ({
    path: join(folder, name),
    temporary: join(folder, `.${name}.${process.pid}.part`),
    content,
  }));
  // The one thing that lets a file be written and not renamed. Found first, so that no earlier result is lost to it.
  for (const { path } of planned) {
    if (await isFolder(path)) throw unwritable(path, "a folder has that name");
  }
  const renamed: string[] = [];
  try {
    await ensureFolder(folder);
    for (const { temporary, content } of planned) await writeFile(temporary, content, { flag: "wx" });
    for (const { temporary, path } of planned) {
      await rename(temporary, path);
      renamed.push(path);
    }
  } catch (error) {
    const left = [...planned.map(({ temporary }) => temporary), ...renamed];
    await Promise.all(left.map((path) => rm(path, { force: true })));
    throw unwritable(folder, reasonOf(error), error);
  }
  return renamed;
}

/**
 * See that files can be written to a folder, or where it would be made, before any long work. Leaves nothing behind.
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

/** The folder, or the nearest thing above it that is there. */
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

function reasonOf(error: unknown): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : String(error);
  return REASONS[code] ?? code;
}

function unwritable(path: string, reason: string, cause?: unknown): SpotpitchError {
  return new SpotpitchError(
    "OUTPUT_UNWRITABLE",
    `Cannot write to "${path}": ${reason}. Nothing was written; choose another folder with --out.`,
    { option: "out", received: path, ...(cause === undefined ? {} : { cause }) },
  );
}
