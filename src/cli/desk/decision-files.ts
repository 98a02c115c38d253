import { randomUUID } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import writeFileAtomic from "write-file-atomic";
import { type Decision, latestDecisions, type MadeDecision, parseDecisions } from "../../batch/decisions.js";
import { DECISIONS } from "../../batch/output-names.js";

/**
 * What was decided about the pieces of an output folder. What is decided at a time is a file of its own that nobody writes again, so
 * that two people never overwrite each other's, whether they share a desk or each has one at the same folder.
 */
export interface DecisionFiles {
  /** All decisions, in the order in which this desk has come to know them. */
  readonly read: () => readonly Decision[];
  /**
   * Keep decisions, all or none. The time of each is later than that of every decision about its piece that this desk knows, whatever the
   * clock says.
   */
  readonly keep: (made: readonly MadeDecision[]) => Promise<readonly Decision[]>;
}

export function openDecisions(out: string): DecisionFiles {
  const folder = join(out, DECISIONS);
  const seen = new Set<string>();
  const known: Decision[] = [];
  const read = (): readonly Decision[] => {
    for (const name of namesIn(folder)) {
      const found = seen.has(name) ? undefined : decisionsIn(join(folder, name));
      if (!found) continue;
      seen.add(name);
      known.push(...found);
    }
    return known;
  };
  return {
    read,
    async keep(made) {
      const decisions = dated(made, latestDecisions(read()), Date.now());
      mkdirSync(folder, { recursive: true });
      const name = `${decisions[0].at.replace(/[:.]/g, "-")}-${randomUUID()}.json`;
      // Before the file is there: another request may look into the folder while it is written.
      seen.add(name);
      await writeFileAtomic(join(folder, name), `${JSON.stringify(decisions)}\n`);
      known.push(...decisions);
      return decisions;
    },
  };
}

function dated(
  made: readonly MadeDecision[],
  latest: ReadonlyMap<string, Decision>,
  nowMs: number,
): Decision[] {
  return made.map((each) => {
    const last = latest.get(each.pieceSha256);
    const atMs = Math.max(nowMs, last ? Date.parse(last.at) + 1 : 0);
    return { ...each, at: new Date(atMs).toISOString() };
  });
}

/** Complete files. A name that is being written ends otherwise. */
function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith(".json"))
      .sort();
  } catch {
    return []; // nothing was decided yet
  }
}

/**
 * Undefined if the file holds no decisions. Somebody may have put it there, and it is left alone; or it is half copied, and holds them
 * the next time.
 */
function decisionsIn(path: string): readonly Decision[] | undefined {
  try {
    return parseDecisions(readFileSync(path, "utf8"));
  } catch {
    return;
  }
}
