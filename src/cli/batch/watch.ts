import { setTimeout as pause } from "node:timers/promises";
import { STILL_ARRIVING } from "../../batch/entry.js";
import type { Verdict } from "../../batch/lists.js";
import { fileAgeMs, fileSignature } from "./file-signature.js";
import type { Upload } from "./inputs.js";

const LOOK_EVERY_MS = 1000;
/**
 * A file is taken if it has not changed for the first time. If it then has a fault that an incomplete file has, its transfer may only
 * pause: it is taken again after the next time, and judged as it is after the last.
 */
const QUIET_MS = [3000, 12_000, 48_000, 192_000] as const;
const LONGEST = QUIET_MS.length - 1;

/** What is watched, and what happens then. */
export interface Watching {
  readonly find: () => Promise<readonly Upload[]>;
  /** Other files after whose change the uploads are passed on again. */
  readonly watched: readonly string[];
  /** Returns the paths of those that may be incomplete. */
  readonly take: (uploads: readonly Upload[]) => Promise<readonly string[]>;
}

/**
 * Look at the uploads once a second, and pass on all complete ones when any of them, or another watched file, has changed. It does not
 * use file system events, because network folders do not send them. It rejects when the signal aborts.
 */
export async function watchUploads({ find, watched, take }: Watching, signal: AbortSignal): Promise<never> {
  const quiet = createQuietTimes();
  let taken: string | undefined;
  for (;;) {
    const uploads = await find();
    await quiet.look([...uploads.map(({ path }) => path), ...watched]);
    const arrived = uploads.flatMap(quiet.asArrived);
    const state = quiet.stateOf(arrived, watched);
    const isDue = arrived.length > 0 || taken !== undefined;
    if (state !== taken && watched.every(quiet.isQuiet) && isDue) {
      quiet.wait(arrived, await take(arrived));
      taken = quiet.stateOf(uploads.flatMap(quiet.asArrived), watched);
    }
    await pause(LOOK_EVERY_MS, undefined, { signal });
  }
}

/** Paths of the uploads that may be incomplete. A file with several pieces has a verdict for each. */
export function stillArriving(uploads: readonly Upload[], verdicts: readonly Verdict[]): string[] {
  const arriving = new Set(
    verdicts
      .filter(({ entry }) => entry.code === STILL_ARRIVING)
      .map(({ entry }) => entry.upload ?? entry.file),
  );
  return uploads.filter(({ id }) => arriving.has(id)).map(({ path }) => path);
}

interface Seen {
  readonly signature: string;
  readonly sinceMs: number;
  /** Whether it was complete long before anybody looked. */
  readonly isOld: boolean;
}

/**
 * For how long files have not changed, and how long each must be quiet to be taken.
 *
 * @param clockMs the time, whatever it counts from
 */
export function createQuietTimes(clockMs = () => performance.now()) {
  let seen = new Map<string, Seen>();
  let nowMs = clockMs();
  /** How often an upload was taken and may have been incomplete. */
  const attempts = new Map<string, number>();
  const quietMs = (path: string): number => nowMs - (seen.get(path)?.sinceMs ?? nowMs);
  return {
    async look(paths: readonly string[]): Promise<void> {
      nowMs = clockMs();
      const looked = new Map<string, Seen>();
      for (const path of paths) {
        const signature = await fileSignature(path);
        const before = seen.get(path);
        if (before?.signature === signature) looked.set(path, before);
        else
          looked.set(path, { signature, sinceMs: nowMs, isOld: (await fileAgeMs(path)) > QUIET_MS[LONGEST] });
      }
      seen = looked;
      for (const path of attempts.keys()) if (!seen.has(path)) attempts.delete(path);
    },
    isQuiet: (path: string): boolean => quietMs(path) >= QUIET_MS[0],
    /** The upload as it is to be taken, or nothing if it is not to be taken yet. */
    asArrived(upload: Upload): Upload[] {
      const attempt = attempts.get(upload.path) ?? 0;
      if (quietMs(upload.path) < QUIET_MS[attempt])
        return attempt > 0 ? [{ ...upload, arrival: "paused" }] : [];
      const isOver = attempt === LONGEST || seen.get(upload.path)?.isOld;
      return [isOver ? upload : { ...upload, arrival: "assumed" }];
    },
    /** It changes when a pass is due. What is added to a paused file does not count. */
    stateOf: (uploads: readonly Upload[], watched: readonly string[]): string =>
      [
        ...uploads.map(
          ({ path, arrival }) => `${path}\0${arrival === "paused" || seen.get(path)?.signature}`,
        ),
        ...watched.map((path) => `${path}\0${seen.get(path)?.signature}`),
      ].join("\0\0"),
    /** Wait longer for those that may be incomplete, and no longer for others. */
    wait(uploads: readonly Upload[], incomplete: readonly string[]): void {
      for (const { path, arrival } of uploads) {
        if (arrival === "paused") continue;
        if (incomplete.includes(path)) attempts.set(path, (attempts.get(path) ?? 0) + 1);
        else if (arrival === "assumed") attempts.delete(path);
      }
    },
  };
}
