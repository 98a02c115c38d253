import { constants, type Stats } from "node:fs";
import { type FileHandle, lstat, open, realpath } from "node:fs/promises";
import { dirname, join, relative, resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { refused, systemCode } from "../refusals.js";
import type { Upload } from "./inputs.js";
import { refusedUpload } from "./upload-refusals.js";

const ATTEMPTS = 3;
const PAUSE_MS = 300;

/**
 * Read a file whose name and content come from a stranger. It follows no link to a file or to a folder in the name, does not wait for pipes or devices, and reads no
 * more than `maxBytes`. If the file changes meanwhile, it never returns a mixture of old and new content.
 *
 * @throws SpotpitchError `INPUT_MISSING`, `INPUT_UNREADABLE`, `INPUT_LINK`, `INPUT_NOT_A_FILE`, `INPUT_TOO_LARGE`,
 *   `INPUT_CHANGING`
 */
export async function readUpload({ id: name, path, below }: Upload, maxBytes: number): Promise<Uint8Array> {
  if (below !== undefined && (await isBehindLink(path, below))) throw refusedUpload.linkedFolder(name);
  for (let attempt = 1; ; attempt++) {
    const bytes = await readOnce(path, name, maxBytes);
    if (bytes) return bytes;
    if (attempt === ATTEMPTS) throw refusedUpload.changing(name);
    await pause(PAUSE_MS);
  }
}

/** Whether a folder between the two is a link: it could lead anywhere. */
async function isBehindLink(path: string, below: string): Promise<boolean> {
  try {
    const between = relative(resolve(below), dirname(path));
    return (await realpath(dirname(path))) !== join(await realpath(below), between);
  } catch {
    return false; // what is missing is told when it is read
  }
}

/** Undefined if the file has changed meanwhile. */
async function readOnce(path: string, name: string, maxBytes: number): Promise<Uint8Array | undefined> {
  const before = await explained(name, lstat(path));
  if (before.isSymbolicLink()) throw refusedUpload.link(name);
  if (!before.isFile()) throw notAFile(name, before);
  // A link or a pipe may have replaced the file since: the flags refuse a link and do not wait for a pipe.
  const flags = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);
  const file = await explained(name, open(path, flags));
  try {
    const opened = await file.stat();
    if (!opened.isFile()) throw notAFile(name, opened);
    if (opened.size > maxBytes) throw refusedUpload.tooLarge(name, opened.size, maxBytes);
    const bytes = await explained(name, readAll(file, opened.size));
    const after = await file.stat();
    const same =
      bytes?.length === after.size && after.mtimeMs === opened.mtimeMs && after.size === opened.size;
    return same ? bytes : undefined;
  } finally {
    await file.close();
  }
}

/** Undefined if the file ends before `size` bytes. */
async function readAll(file: FileHandle, size: number): Promise<Uint8Array | undefined> {
  const bytes = new Uint8Array(size);
  let at = 0;
  while (at < size) {
    const { bytesRead } = await file.read(bytes, at, size - at, at);
    if (bytesRead === 0) return;
    at += bytesRead;
  }
  return bytes;
}

async function explained<T>(name: string, work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (cause) {
    const code = systemCode(cause);
    if (code === "ELOOP") throw refusedUpload.link(name);
    if (code !== "ENOENT" && code !== "ENOTDIR") throw refused.unreadable("file", name, cause);
    throw refused.missing("file", name, cause, ", or its name cannot be written as text");
  }
}

function notAFile(name: string, stats: Stats) {
  const what = stats.isFIFO() ? "a named pipe" : stats.isSocket() ? "a socket" : "a folder or a device";
  return refusedUpload.notAFile(name, what);
}
