import { setTimeout as pause } from "node:timers/promises";
import { fileSignature } from "./file-signature.js";
import type { Upload } from "./inputs.js";

const LOOK_EVERY_MS = 1000;
/** A file counts as complete if it has not changed for this time. */
const QUIET_MS = 3000;

/** What is watched, and what happens then. */
export interface Watching {
  readonly find: () => Promise<readonly Upload[]>;
  /** Other files after whose change the uploads are passed on again. */
  readonly watched: readonly string[];
  readonly take: (uploads: readonly Upload[]) => Promise<unknown>;
}

/**
 * Look at the uploads once a second, and pass on all complete ones when any of them, or another watched file, has changed. It does not
 * use file system events, because network folders do not send them. It rejects when the signal aborts.
 */
export async function watchUploads({ find, watched, take }: Watching, signal: AbortSignal): Promise<never> {
  let seen = new Map<string, { readonly signature: string; readonly sinceMs: number }>();
  let taken: string | undefined;
  for (;;) {
    const now = performance.now();
    const uploads = await find();
    const looked: typeof seen = new Map();
    for (const path of [...uploads.map((upload) => upload.path), ...watched]) {
      const signature = await fileSignature(path);
      const before = seen.get(path);
      looked.set(path, before?.signature === signature ? before : { signature, sinceMs: now });
    }
    seen = looked;
    const isQuiet = (path: string): boolean => now - (seen.get(path)?.sinceMs ?? now) >= QUIET_MS;
    const quiet = uploads.filter(({ path }) => isQuiet(path));
    const state = [...quiet.map(({ path }) => path), ...watched]
      .map((path) => `${path}\0${seen.get(path)?.signature}`)
      .join("\0\0");
    if (state !== taken && watched.every(isQuiet) && (quiet.length > 0 || taken !== undefined)) {
      taken = state;
      await take(quiet);
    }
    await pause(LOOK_EVERY_MS, undefined, { signal });
  }
}
