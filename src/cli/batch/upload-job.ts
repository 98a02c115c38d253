import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { inspectUpload } from "../../batch/inspect-upload.js";
import type { UploadLimits } from "../../batch/limits.js";
import { type Prepared, pieceVerdict, type Refusal, refusalOf } from "../../batch/outcome.js";
import type { LedgerRecord } from "../../batch/records.js";
import { sha256 } from "../../batch/sha256.js";
import { colourThumbnail, greyThumbnail, thumbnail } from "../../batch/thumbnail.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import {
  decodePhoto,
  keepNothingDecoded,
  type PhotoFacts,
  useDecoderThreads,
} from "../../pipeline/decoding.js";
import { triagePhoto } from "../../pipeline/triage/triage.js";
import { type AsGiven, commandReader } from "../command-reader.js";
import { writePiece } from "../write-piece.js";
import type { Upload } from "./inputs.js";
import { areIntact, outputFile } from "./output-folder.js";
import { readUpload } from "./read-upload.js";
import { refusedUpload } from "./upload-refusals.js";

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

/** Read an upload and check whether it can be prepared, or was prepared before and is unchanged. */
export async function surveyUpload({ upload, limits, out, known }: SurveyTask): Promise<Survey> {
  let contentSha256: string | undefined;
  try {
    await keepNothingDecoded();
    const bytes = await readUpload(upload, limits.maxBytes);
    contentSha256 = sha256(bytes);
    if (known?.contentSha256 === contentSha256 && (await areIntact(out, known.outputs))) {
      return { unchanged: known };
    }
    return { facts: await inspectUpload(bytes, upload.id, limits), contentSha256 };
  } catch (error) {
    return refusalOf(error, contentSha256, commandReader);
  }
}

/** The content of an upload; absent if it cannot be read. */
export interface Hashed {
  readonly contentSha256?: string | undefined;
}

/** Nothing but the content of an upload that takes too much memory even for its survey. */
export async function hashUpload({ upload, limits }: SurveyTask): Promise<Hashed> {
  try {
    return { contentSha256: sha256(await readUpload(upload, limits.maxBytes)) };
  } catch (error) {
    return refusalOf(error, undefined, commandReader);
  }
}

/** Everything that preparing one upload needs. Plain data, so that another process or computer can do the work. */
export interface PrepareTask {
  readonly upload: Upload;
  readonly limits: UploadLimits;
  readonly options: PrepareOptions;
  readonly asGiven: AsGiven;
  /** The content of the upload at its survey. */
  readonly contentSha256: string;
  /** The folder for its files, which are written all or none. */
  readonly folder: string;
  /** The start of its files' names. */
  readonly stem: string;
}

/**
 * Prepare an upload, write its files into the folder and return the result. It checks the upload again and does not depend on
 * its caller.
 *
 * @param beforeWriting may throw or end the process if nobody waits for the files any more
 */
export async function prepareUpload(
  { upload, limits, options, asGiven, contentSha256, folder, stem }: PrepareTask,
  beforeWriting: () => void = () => {},
): Promise<Prepared | Refusal> {
  try {
    await useDecoderThreads(1);
    await keepNothingDecoded();
    const bytes = await readUpload(upload, limits.maxBytes);
    if (sha256(bytes) !== contentSha256) throw refusedUpload.changed(upload.id);
    const inColour = await colourThumbnail(bytes, await inspectUpload(bytes, upload.id, limits));
    const photo = await decodePhoto(bytes, { fileName: upload.id, maxPixels: limits.maxPixels });
    const triage = await triagePhoto(photo, resolveOptions(options));
    const asSent = inColour ?? (await greyThumbnail(photo));
    beforeWriting();
    const { report, written } = await writePiece({
      folder,
      stem,
      // A drawing is rendered as large as the piece needs it.
      photo: photo.format === "svg" ? bytes : { photo: Promise.resolve(photo) },
      options,
      asGiven,
      fileName: basename(upload.id),
      threads: 1,
    });
    const preview = written.find((path) => path.endsWith(".preview.png"));
    return {
      ...pieceVerdict(triage, report),
      files: await Promise.all(written.map((path) => outputFile(path))),
      thumbnail:
        preview && Buffer.from(await thumbnail(await readFile(preview), report.job)).toString("base64"),
      photo: Buffer.from(asSent).toString("base64"),
    };
  } catch (error) {
    return refusalOf(error, contentSha256, commandReader);
  }
}
