import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { lstat, readFile } from "node:fs/promises";
import { dirname, isAbsolute, join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import writeFileAtomic from "write-file-atomic";
import * as z from "zod";
import type { UploadEntry } from "../../batch/entry.js";

/** A file that was written, below the output folder, and what it held. */
export interface OutputFile {
  readonly path: string;
  readonly sha256: string;
}

/** All that is known of an upload's last verdict, and what it was made of. */
export interface LedgerRecord {
  readonly entry: UploadEntry;
  readonly contentSha256: string;
  /** Options, names, limits and version. */
  readonly jobSha256: string;
  readonly outputs: readonly OutputFile[];
  /** WebP in base64; absent where there is nothing to show. */
  readonly thumbnail?: string | undefined;
}

/** One record for each upload. A record appears whole or not at all, and only behind the files that it lists. */
export interface Ledger {
  readonly get: (id: string) => LedgerRecord | undefined;
  readonly set: (id: string, record: LedgerRecord) => Promise<void>;
}

const insidePath = z.string().refine((path) => !isAbsolute(path) && !path.split(/[\\/]/).includes(".."));

/** What the program itself relies on; the entry is only written out again, so its files must be those that were checked. */
const recordSchema = z
  .object({
    entry: z.custom<UploadEntry>((value) => typeof value === "object" && value !== null && "file" in value),
    contentSha256: z.string(),
    jobSha256: z.string(),
    outputs: z.array(z.object({ path: insidePath, sha256: z.string() })),
    thumbnail: z.string().optional(),
  })
  .refine(({ entry, outputs }) =>
    isDeepStrictEqual(
      entry.outputs,
      outputs.map(({ path }) => path),
    ),
  );

const RECORD_NAME = /^[0-9a-f]{64}\.json$/;

/** Open the ledger in a folder, made if missing. What a killed run has left half-written there is removed. */
export function openLedger(folder: string): Ledger {
  mkdirSync(folder, { recursive: true });
  for (const name of readdirSync(folder)) if (!RECORD_NAME.test(name)) rmSync(join(folder, name));
  const pathOf = (id: string): string => join(folder, `${sha256(id)}.json`);
  return {
    get(id) {
      try {
        const parsed = recordSchema.safeParse(JSON.parse(readFileSync(pathOf(id), "utf8")));
        return parsed.success && parsed.data.entry.file === id ? parsed.data : undefined;
      } catch {
        return; // none yet, or damaged: the work is done anew
      }
    },
    async set(id, record) {
      await writeFileAtomic(pathOf(id), `${JSON.stringify(record)}\n`);
    },
  };
}

export const sha256 = (content: Uint8Array | string): string =>
  createHash("sha256").update(content).digest("hex");

/** Whether no part of a path below a folder is a link, which could lead out of it. */
export async function hasNoLinks(folder: string, path: string): Promise<boolean> {
  for (let part = path; part !== "."; part = dirname(part)) {
    const stats = await lstat(join(folder, part)).catch(() => undefined);
    if (stats?.isSymbolicLink()) return false;
  }
  return true;
}

/** Whether every file is there, in the folder itself, and holds what it held. */
export async function areIntact(folder: string, outputs: readonly OutputFile[]): Promise<boolean> {
  for (const output of outputs) {
    if (!(await hasNoLinks(folder, output.path))) return false;
    const bytes = await readFile(join(folder, output.path)).catch(() => undefined);
    if (!bytes || sha256(bytes) !== output.sha256) return false;
  }
  return true;
}
