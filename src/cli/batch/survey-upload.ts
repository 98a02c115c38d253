import { inspectUpload } from "../../batch/inspect-upload.js";
import type { UploadLimits } from "../../batch/limits.js";
import { type Refusal, refusalOf } from "../../batch/outcome.js";
import type { LedgerRecord } from "../../batch/records.js";
import { sha256 } from "../../batch/sha256.js";
import type { PhotoFacts } from "../../pipeline/decoding.js";
import type { Upload } from "./inputs.js";
import { areIntact } from "./output-folder.js";
import { readUpload } from "./read-upload.js";

export interface SurveyTask {
  readonly upload: Upload;
  readonly limits: UploadLimits;
  readonly out: string;
  /** From an earlier run of the same job. */
  readonly known?: LedgerRecord;
}

export type Survey =
  | Refusal
  | { readonly unchanged: LedgerRecord }
  | { readonly facts: PhotoFacts; readonly contentSha256: string };

/** Read an upload and tell whether it is fit to be prepared, or was prepared before and is unchanged. */
export async function surveyUpload({ upload, limits, out, known }: SurveyTask): Promise<Survey> {
  let contentSha256: string | undefined;
  try {
    const bytes = await readUpload(upload.path, upload.id, limits.maxBytes);
    contentSha256 = sha256(bytes);
    if (known?.contentSha256 === contentSha256 && (await areIntact(out, known.outputs))) {
      return { unchanged: known };
    }
    return { facts: await inspectUpload(bytes, upload.id, limits), contentSha256 };
  } catch (error) {
    return refusalOf(error, contentSha256);
  }
}
