import { mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import writeFileAtomic from "write-file-atomic";
import type { OutputFile } from "../../batch/outcome.js";
import { type LedgerRecord, parseRecord } from "../../batch/records.js";
import { sha256 } from "../../batch/sha256.js";

/** One record for each upload. A record appears whole or not at all, and only after the files that it lists. */
export interface Ledger {
  readonly get: (id: string) => LedgerRecord | undefined;
  /** Keep the record of the upload that its entry names. */
  readonly set: (record: LedgerRecord) => Promise<void>;
  /** Ids of all uploads with a record. */
  readonly ids: () => readonly string[];
  readonly remove: (id: string) => void;
  /** Whether another upload's record lists the same file with the same content. */
  readonly isShared: (id: string, output: OutputFile) => boolean;
}

const RECORD_NAME = /^[0-9a-f]{64}\.json$/;

/** Open the ledger in a folder; a missing folder is made. It removes incomplete files of a killed run. */
export function openLedger(folder: string): Ledger {
  mkdirSync(folder, { recursive: true });
  for (const name of readdirSync(folder)) if (!RECORD_NAME.test(name)) rmSync(join(folder, name));
  const nameOf = (id: string): string => `${sha256(id)}.json`;
  const read = (name: string): LedgerRecord | undefined => {
    try {
      const record = parseRecord(readFileSync(join(folder, name), "utf8"));
      return record && nameOf(record.entry.file) === name ? record : undefined;
    } catch {
      return; // no record yet
    }
  };
  /** Files of all records by upload, read on first use. */
  let files: Map<string, readonly OutputFile[]> | undefined;
  const readAll = (): Map<string, readonly OutputFile[]> => {
    const records = readdirSync(folder)
      .map(read)
      .filter((record) => record !== undefined);
    return new Map(records.map(({ entry, outputs }) => [entry.file, outputs]));
  };
  const allFiles = (): Map<string, readonly OutputFile[]> => {
    files ??= readAll();
    return files;
  };
  return {
    get: (id) => read(nameOf(id)),
    ids: () => [...allFiles().keys()],
    remove(id) {
      files?.delete(id);
      rmSync(join(folder, nameOf(id)), { force: true });
    },
    set(record) {
      files?.set(record.entry.file, record.outputs);
      return writeFileAtomic(join(folder, nameOf(record.entry.file)), `${JSON.stringify(record)}\n`);
    },
    isShared(id, { path, sha256 }) {
      return [...allFiles()].some(
        ([other, outputs]) =>
          other !== id && outputs.some((output) => output.path === path && output.sha256 === sha256),
      );
    },
  };
}
