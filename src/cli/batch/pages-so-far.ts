import type { Verdict } from "../../batch/lists.js";

const EVERY_MS = 10_000;

/** Verdicts of a pass that is under way, and the lists of them. */
export interface PagesSoFar {
  /** Take a verdict, and write the lists if the last ones are ten seconds old. */
  readonly add: (verdict: Verdict) => void;
  /** Once nothing of it is written any more. */
  readonly atRest: () => Promise<void>;
  /** Write the lists of all verdicts so far. It fails silently: there is a reason already why the pass does not end. */
  readonly giveUp: () => Promise<void>;
}

/** @param write the lists of some verdicts, in the order in which they were found */
export function pagesSoFar(write: (verdicts: readonly Verdict[]) => Promise<void>): PagesSoFar {
  const verdicts: Verdict[] = [];
  let writing: Promise<void> | undefined;
  let last = performance.now();
  const writeNow = async (): Promise<void> => {
    await write([...verdicts]).catch(() => {}); // the last lists tell what is wrong
    last = performance.now();
    writing = undefined;
  };
  return {
    add(verdict) {
      verdicts.push(verdict);
      if (performance.now() - last >= EVERY_MS) writing ??= writeNow();
    },
    atRest: async () => writing,
    async giveUp() {
      await writing;
      await writeNow();
    },
  };
}
