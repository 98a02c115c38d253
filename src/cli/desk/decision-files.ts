import { randomUUID } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import writeFileAtomic from "write-file-atomic";
import { type Decision, latestDecisions, type MadeDecision, parseDecisions } from "../../batch/decisions.js";
import { DECISIONS } from "../../batch/output-names.js";

/**
 * What was decided about the pieces of an output folder. Each decision is a file of its own that nobody writes again, so that two people
 * never overwrite each other's, whether they share a desk or each has one at the same folder.
 */
export interface DecisionFiles {
  /** All decisions, in the order in which this desk has come to know them. */
  readonly read: () => readonly Decision[];
  /** Keep a decision. Its time is later than that of every decision about the piece that this desk knows, whatever the clock says. */
  readonly keep: (made: MadeDecision) => Promise<Decision>;
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
      const last = latestDecisions(read()).get(made.pieceSha256);
      const nowMs = Math.max(Date.now(), last ? Date.parse(last.at) + 1 : 0);
      const decision: Decision = { ...made, at: new Date(nowMs).toISOString() };
      mkdirSync(folder, { recursive: true });
      const name = `${decision.at.replace(/[:.]/g, "-")}-${randomUUID()}.json`;
      await writeFileAtomic(join(folder, name), `${JSON.stringify(decision)}\n`);
      seen.add(name);
      known.push(decision);
      return decision;
    },
  };
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
