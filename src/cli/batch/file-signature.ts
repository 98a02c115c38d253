import { lstat } from "node:fs/promises";

/** It changes when a file does, or comes or goes. */
export async function fileSignature(path: string): Promise<string> {
  const stats = await lstat(path).catch(() => undefined);
  return stats ? `${stats.size} ${stats.mtimeMs} ${stats.ino} ${stats.mode}` : "gone";
}

/** Time since the last change of a file, by the clock of its system; 0 if there is none. */
export async function fileAgeMs(path: string): Promise<number> {
  const stats = await lstat(path).catch(() => undefined);
  return stats ? Date.now() - stats.mtimeMs : 0;
}
