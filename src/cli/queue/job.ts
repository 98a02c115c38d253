import * as z from "zod";
import { sha256 } from "../../batch/sha256.js";
import { SpotpitchError } from "../../core/errors.js";
import { checkOptions } from "../../options/option-error.js";
import { type PrepareOptions, prepareSchema } from "../../options/tables.js";
import { stableJson } from "../batch/stable-json.js";
import type { PrepareTask } from "../batch/upload-job.js";

const hash = z.string().regex(/^[0-9a-f]{64}$/);
/** The name of a file in one folder, and nothing that leads elsewhere. */
export const plainName = z
  .string()
  .min(1)
  .max(255)
  .refine((name) => !/[\\/\0]/.test(name) && name !== "." && name !== "..");

const units = z.strictObject({
  length: z.enum(["mm", "in"]),
  speed: z.enum(["mm/s", "cm/s", "m/s", "in/s", "mm/min", "cm/min", "m/min", "in/min"]),
  acceleration: z.enum(["mm/s²", "cm/s²", "m/s²", "in/s²"]),
});

/** What a job in the queue says. Uploads and masks lie in the store, under the hashes of their contents. */
const jobSchema = z.strictObject({
  /** Of who put it there. */
  release: z.string().max(200),
  /** Of the upload. */
  contentSha256: hash,
  /** Only for messages. */
  id: z.string().min(1).max(4096),
  stem: plainName,
  limits: z.strictObject({
    maxPixels: z.number().min(1e4).max(268e6),
    maxBytes: z.number().min(1000).max(4000e6),
    maxSeconds: z.number().min(1).max(86_400),
  }),
  /** What its process may hold. */
  bytes: z.number().min(0).max(4096e9),
  asGiven: z.strictObject({
    units,
    givenBy: z.record(z.string().max(100), z.string().max(4096)).optional(),
  }),
  /** Those of `prepare`, without a mask. */
  options: z.record(z.string(), z.unknown()),
  mask: z.strictObject({ sha256: hash, fileName: z.string().max(255) }).optional(),
});

/** A job as it lies in the queue. */
export type QueueJob = Omit<z.output<typeof jobSchema>, "options"> & {
  readonly options: PrepareOptions;
};

/** A job, and the key under which queue and store know it: the hash of everything that its result depends on. */
export interface KeyedJob {
  readonly key: string;
  readonly job: QueueJob;
  /** Contents that the job names, beside the upload. */
  readonly mask: Uint8Array | undefined;
}

/** The largest that options have come to is a tenth of it. */
const MAX_CHARACTERS = 100_000;

export const keyOf = (job: object): string => sha256(stableJson(job));

export function jobFor(task: PrepareTask, bytes: number, release: string): KeyedJob {
  const { upload, stem, limits, contentSha256, asGiven } = task;
  const { mask, ...options } = task.options;
  const maskBytes = mask instanceof Uint8Array ? mask : mask?.bytes;
  const fileName = mask instanceof Uint8Array ? "" : (mask?.fileName ?? "");
  const said: QueueJob = {
    ...{ release, contentSha256, id: upload.id, stem, limits, bytes, asGiven, options },
    ...(maskBytes && { mask: { sha256: sha256(maskBytes), fileName } }),
  };
  // What the queue keeps is text: the key must be that of what comes out of it.
  const job: QueueJob = JSON.parse(JSON.stringify(said));
  return { key: keyOf(job), job, mask: maskBytes };
}

/** Why a worker refuses a job, in words for the list of refused ones. */
export class JobRefused extends Error {
  override readonly name = "JobRefused";
}

/**
 * Check a job that may come from anybody who can write to the queue. Throws `JobRefused`.
 *
 * @param key under which the queue has it
 * @param release of this worker
 */
export function checkedJob(key: string | undefined, data: unknown, release: string): QueueJob {
  const text = JSON.stringify(data) ?? "";
  if (text.length > MAX_CHARACTERS) {
    throw new JobRefused(`it has ${text.length} characters, and ${MAX_CHARACTERS} are allowed`);
  }
  const parsed = jobSchema.safeParse(data);
  if (!parsed.success) throw new JobRefused(faultWords(parsed.error.issues[0]));
  const job = parsed.data;
  if (job.release !== release) {
    throw new JobRefused(`it is of ${job.release}, and this worker is ${release}`);
  }
  if (keyOf(parsed.data) !== key) throw new JobRefused("its key is not that of its content");
  return { ...job, options: checkedOptions(job.options) };
}

function checkedOptions(options: Readonly<Record<string, unknown>>): PrepareOptions {
  try {
    checkOptions(prepareSchema, options);
    return options;
  } catch (error) {
    if (error instanceof SpotpitchError) throw new JobRefused(error.message);
    throw error;
  }
}

const faultWords = ({ path, message }: z.core.$ZodIssue): string =>
  `${path.length === 0 ? "it" : `"${path.join(".")}"`} is not as it should be (${message})`;
