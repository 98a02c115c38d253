import { constants, type Stats } from "node:fs";
import { type FileHandle, lstat, open } from "node:fs/promises";
import { setTimeout as pause } from "node:timers/promises";
import { SpotpitchError } from "../../core/errors.js";

const ATTEMPTS = 3;
const PAUSE_MS = 300;

/**
 * Read a file whose name and content come from a stranger. It follows no link, does not wait for pipes or devices, reads no more
 * than `maxBytes`, and never returns a file half old and half new that changes meanwhile.
 *
 * @throws SpotpitchError `INPUT_MISSING`, `INPUT_UNREADABLE`, `INPUT_LINK`, `INPUT_NOT_A_FILE`, `INPUT_TOO_LARGE`,
 *   `INPUT_CHANGING`
 */
export async function readUpload(path: string, name: string, maxBytes: number): Promise<Uint8Array> {
  for (let attempt = 1; ; attempt++) {
    const bytes = await readOnce(path, name, maxBytes);
    if (bytes) return bytes;
    if (attempt === ATTEMPTS) {
      const what = `"${name}" changes while it is read. Run again when its upload has ended.`;
      throw new SpotpitchError("INPUT_CHANGING", what);
    }
    await pause(PAUSE_MS);
  }
}

/** Undefined where the file has changed meanwhile. */
async function readOnce(path: string, name: string, maxBytes: number): Promise<Uint8Array | undefined> {
  const before = await explained(name, lstat(path));
  if (before.isSymbolicLink()) throw link(name);
  if (!before.isFile()) throw notAFile(name, before);
  // A link or a pipe may have replaced the file since: the flags refuse the one and do not wait for the other.
  const flags = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);
  const file = await explained(name, open(path, flags));
  try {
    const opened = await file.stat();
    if (!opened.isFile()) throw notAFile(name, opened);
    if (opened.size > maxBytes) {
      const megabytes = Math.ceil(opened.size / 1e6);
      const what = `"${name}" has ${megabytes} MB. Allowed: up to ${maxBytes / 1e6} MB (--max-file-size).`;
      throw new SpotpitchError("INPUT_TOO_LARGE", what, { received: opened.size });
    }
    const bytes = await explained(name, readAll(file, opened.size));
    const after = await file.stat();
    const same =
      bytes?.length === after.size && after.mtimeMs === opened.mtimeMs && after.size === opened.size;
    return same ? bytes : undefined;
  } finally {
    await file.close();
  }
}

/** Undefined where the file ends before `size` bytes. */
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
    const code = cause instanceof Error && "code" in cause ? String(cause.code) : String(cause);
    if (code === "ELOOP") throw link(name);
    if (code === "ENOENT" || code === "ENOTDIR") {
      const what = `There is no file "${name}", or its name cannot be written as text.`;
      throw new SpotpitchError("INPUT_MISSING", what, { cause });
    }
    throw new SpotpitchError("INPUT_UNREADABLE", `"${name}" cannot be read (${code}).`, { cause });
  }
}

const INSTEAD = "Put the picture itself there.";

const link = (name: string): SpotpitchError =>
  new SpotpitchError("INPUT_LINK", `"${name}" is a symbolic link, which is not followed. ${INSTEAD}`);

function notAFile(name: string, stats: Stats): SpotpitchError {
  const what = stats.isFIFO() ? "a named pipe" : stats.isSocket() ? "a socket" : "a folder or a device";
  return new SpotpitchError("INPUT_NOT_A_FILE", `"${name}" is ${what}, no file. ${INSTEAD}`);
}
