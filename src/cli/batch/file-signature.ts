import { lstat } from "node:fs/promises";

/** It changes when a file does, or comes or goes. */
export async function fileSignature(path: string): Promise<string> {
  const stats = await lstat(path).catch(() => undefined);
  return stats ? `${stats.size} ${stats.mtimeMs} ${stats.ino} ${stats.mode}` : "gone";
}
