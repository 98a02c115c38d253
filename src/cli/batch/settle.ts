import { givenUp, type LedgerRecord } from "../../batch/records.js";
import type { Ledger } from "./ledger.js";
import { installFiles, isIntact, removeFile } from "./output-folder.js";

/** Put a verdict into effect. `from` is the folder in which a job has written its files. */
export type Settle = (record: LedgerRecord, from?: string) => Promise<void>;

/**
 * Verdicts take effect one after another: new files move to their places, files that the upload gives up are removed, and only
 * then is the record written. A run that is killed in between leaves no record, or one that does not agree with the files; the
 * next run then does the work again. A file is removed only while it is the upload's own: it holds what the record says, and no
 * other upload's record says the same.
 */
export function createSettle(out: string, ledger: Ledger): Settle {
  const settle: Settle = async (record, from) => {
    const id = record.entry.file;
    if (from !== undefined) await installFiles(from, out, record.outputs);
    for (const output of givenUp(ledger.get(id), record)) {
      if (!ledger.isShared(id, output) && (await isIntact(out, output))) await removeFile(out, output.path);
    }
    await ledger.set(record);
  };
  let last: Promise<void> = Promise.resolve();
  return (record, from) => {
    const settled = last.then(() => settle(record, from));
    last = settled.catch(() => {});
    return settled;
  };
}
