import { lstat } from "node:fs/promises";
import { setTimeout as pause } from "node:timers/promises";
import type { Upload } from "./inputs.js";

const LOOK_EVERY_MS = 1000;
/** A file counts as complete if it has not changed for this time. */
const QUIET_MS = 3000;

/**
 * Look at the uploads once a second, and pass on all complete ones when any of them has changed. It does not use file system events,
 * because network folders do not send them. It rejects when the signal aborts.
 */
export async function watchUploads(
  find: () => Promise<readonly Upload[]>,
  take: (uploads: readonly Upload[]) => Promise<unknown>,
  signal: AbortSignal,
): Promise<never> {
  let seen = new Map<string, { readonly signature: string; readonly sinceMs: number }>();
  let taken: string | undefined;
  for (;;) {
    const now = performance.now();
    const uploads = await find();
    const looked: typeof seen = new Map();
    for (const { path } of uploads) {
      const signature = await signatureOf(path);
      const before = seen.get(path);
      looked.set(path, before?.signature === signature ? before : { signature, sinceMs: now });
    }
    seen = looked;
    const quiet = uploads.filter(({ path }) => now - (seen.get(path)?.sinceMs ?? now) >= QUIET_MS);
    const state = quiet.map(({ path }) => `${path}\0${seen.get(path)?.signature}`).join("\0\0");
    if (state !== taken && (quiet.length > 0 || taken !== undefined)) {
      taken = state;
      await take(quiet);
    }
    await pause(LOOK_EVERY_MS, undefined, { signal });
  }
}

async function signatureOf(path: string): Promise<string> {
  const stats = await lstat(path).catch(() => undefined);
  return stats ? `${stats.size} ${stats.mtimeMs} ${stats.ino} ${stats.mode}` : "gone";
}
