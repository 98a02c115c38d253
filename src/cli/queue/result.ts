import { readFile } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import type { Prepared, Refusal } from "../../batch/outcome.js";
import { sha256 } from "../../batch/sha256.js";
import type { ErrorCode } from "../../core/errors.js";
import type { Exceeded } from "../batch/within-memory.js";
import { plainName } from "./job.js";
import { madeName, resultName, type Store } from "./store.js";

/** What a job has come to: files, a verdict on its upload, or that it needs more memory. */
export type Result = Prepared | Refusal | Exceeded;

const hash = z.string().regex(/^[0-9a-f]{64}$/);
const object = <Type>() => z.custom<Type>((value) => typeof value === "object" && value !== null);

const resultSchema: z.ZodType<Result> = z.union([
  z.strictObject({ exceeded: z.literal(true) }),
  z.strictObject({
    refused: z.strictObject({
      code: z.custom<ErrorCode>(
        (value) => typeof value === "string" && /^(INPUT|OPTION)_[A-Z_]+$/.test(value),
      ),
      message: z.string(),
    }),
    contentSha256: hash.optional(),
    memoryBytes: z.number().optional(),
    maxSeconds: z.number().optional(),
    crashed: z.literal(true).optional(),
  }),
  z.strictObject({
    findings: z.array(object<Prepared["findings"][number]>()),
    figures: object<Prepared["figures"]>(),
    warnings: z.array(object<NonNullable<Prepared["warnings"]>[number]>()).optional(),
    files: z.array(z.strictObject({ path: plainName, sha256: hash })).max(20),
    thumbnail: z.string().optional(),
    photo: z.string().optional(),
  }),
]) as z.ZodType<Result>;

const MAX_RESULT_BYTES = 20e6;
/** A bitmap of the largest piece takes a tenth of it. */
const MAX_FILE_BYTES = 4000e6;

/** Put what a job has made into the store: its files first. */
export async function putResult(store: Store, key: string, result: Result, folder: string): Promise<void> {
  if ("files" in result) {
    for (const { path, sha256: content } of result.files) {
      await store.put(madeName(key, content), await readFile(join(folder, path)));
    }
  }
  await store.put(resultName(key), new TextEncoder().encode(JSON.stringify(result)));
}

/** The result of a job, if it is there. What cannot be read as one counts as none. */
export async function getResult(store: Store, key: string): Promise<Result | undefined> {
  const bytes = await store.get(resultName(key), MAX_RESULT_BYTES);
  if (!bytes) return undefined;
  try {
    return resultSchema.safeParse(JSON.parse(new TextDecoder().decode(bytes))).data;
  } catch {
    return undefined;
  }
}

/** A file of a result. Undefined if it is not there as it was made. */
export async function getMade(store: Store, key: string, content: string): Promise<Uint8Array | undefined> {
  const bytes = await store.get(madeName(key, content), MAX_FILE_BYTES);
  return bytes && sha256(bytes) === content ? bytes : undefined;
}

export async function removeResult(store: Store, key: string, result: Result): Promise<void> {
  // Nobody finds a result whose files are gone already.
  await store.remove(resultName(key));
  if ("files" in result)
    for (const { sha256: content } of result.files) await store.remove(madeName(key, content));
}
