import { existsSync, lstatSync } from "node:fs";
import { dirname } from "node:path";
import { type Verdict, verdictOf } from "../../batch/lists.js";
import type { OutputFile } from "../../batch/outcome.js";
import { isAside, type LedgerRecord, withdrawnRecord } from "../../batch/records.js";
import { systemCode } from "../refusals.js";
import type { Ledger } from "./ledger.js";
import { areIntact, setAside, type WithdrawBoards } from "./output-folder.js";

/** Where the outputs of earlier runs lie, and what knows of them. */
export interface Earlier {
  readonly out: string;
  readonly ledger: Ledger;
  readonly withdrawBoards: WithdrawBoards;
}

/** What was made of an upload, where it lies aside. What lies there already stays. */
export async function outputsAside(
  record: LedgerRecord,
  { ledger, out, withdrawBoards }: Earlier,
): Promise<readonly OutputFile[]> {
  if (isAside(record)) return record.outputs;
  await withdrawBoards(record.entry.file);
  return setAside(out, ledger, record);
}

/** The uploads of a pass. A file may have several pieces, each with an id of its own. */
export interface Present {
  readonly ids: ReadonlySet<string>;
  readonly paths: ReadonlySet<string>;
  /** Ids of those that their rows refuse. */
  readonly refused: ReadonlySet<string>;
}

/**
 * Uploads of earlier runs whose files are gone, and pieces for which no row asks any more: what was made of them moves aside. An upload
 * that is only not among those of this run keeps its files.
 */
export async function settleGone({ ids, paths, refused }: Present, context: Earlier): Promise<Verdict[]> {
  const { ledger, out } = context;
  const verdicts: Verdict[] = [];
  for (const id of ledger.ids()) {
    const record = ids.has(id) ? undefined : ledger.get(id);
    if (!record || record.entry.state === "refused") continue;
    if (record.entry.state === "withdrawn") {
      if (await areIntact(out, record.outputs)) verdicts.push(verdictOf(record, {}, true));
      else ledger.remove(id);
      continue;
    }
    const isUnasked = record.path !== undefined && paths.has(record.path) && !refused.has(id);
    if (ids.size > 0 && (isUnasked || isGone(id, record.path))) {
      const aside = await outputsAside(record, context);
      if (aside.length === 0) {
        ledger.remove(id);
        continue;
      }
      const withdrawn = withdrawnRecord(record, aside, isUnasked ? "ROW_GONE" : "UPLOAD_GONE");
      await ledger.set(withdrawn);
      verdicts.push(verdictOf(withdrawn));
    }
  }
  return verdicts;
}

/** Whether an upload is gone from a folder of uploads that is still there: the whole folder may be on a disk that is not plugged in. */
function isGone(id: string, path: string | undefined): boolean {
  if (path === undefined) return false;
  const given = path.endsWith(id) ? path.slice(0, path.length - id.length) : dirname(path);
  if (!existsSync(given)) return false;
  try {
    lstatSync(path);
    return false;
  } catch (error) {
    return systemCode(error) === "ENOENT";
  }
}
