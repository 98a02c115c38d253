/**
 * What a worker process does: look at one upload, or prepare it. A process and not a thread, so that a file on which the decoder
 * dies takes nothing with it, and one that never ends can be ended.
 */
import { readFile } from "node:fs/promises";
import { basename, extname } from "node:path";
import type { Warning } from "../../6-report/report.js";
import { drawingDanger, isCompressed } from "../../batch/drawing-dangers.js";
import type { PieceFigures } from "../../batch/entry.js";
import type { UploadLimits } from "../../batch/limits.js";
import { thumbnail } from "../../batch/thumbnail.js";
import { type Finding, findingsOf, type Grade, gradeOf } from "../../batch/triage/findings.js";
import { triagePhoto } from "../../batch/triage/triage.js";
import { type ErrorCode, SpotpitchError } from "../../core/errors.js";
import { sayRefusal } from "../../core/refusals/refusals.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { decodePhoto, inspectPhoto, type PhotoFacts, useDecoderThreads } from "../../pipeline/decoding.js";
import { commandReader } from "../command-reader.js";
import { writePiece } from "../write-piece.js";
import type { Upload } from "./inputs.js";
import { areIntact, type LedgerRecord, type OutputFile, sha256 } from "./ledger.js";
import { readUpload } from "./read-upload.js";

export interface SurveyTask {
  readonly upload: Upload;
  readonly limits: UploadLimits;
  readonly out: string;
  /** Of an earlier run with the same options. */
  readonly known?: LedgerRecord;
}

export interface Refusal {
  readonly refused: { readonly code: ErrorCode; readonly message: string };
  /** Absent where the file could not be read. */
  readonly contentSha256?: string;
}

export type Survey =
  | Refusal
  | { readonly unchanged: true }
  | { readonly facts: PhotoFacts; readonly contentSha256: string };

export interface PrepareTask {
  readonly upload: Upload;
  readonly limits: UploadLimits;
  readonly options: PrepareOptions;
  readonly contentSha256: string;
  /** Where the files are written first. */
  readonly folder: string;
  readonly stem: string;
}

export interface Made {
  readonly grade: Grade;
  readonly findings: readonly Finding[];
  readonly figures: PieceFigures;
  readonly warnings: readonly Warning[];
  /** Names in the folder, with what they hold. */
  readonly files: readonly OutputFile[];
  readonly thumbnail: string | undefined;
}

// The command decides when to stop; a worker whose command has died must not outlive it.
process.on("SIGINT", () => {});
process.on("disconnect", () => process.exit(1));
const parent = process.ppid;

/** Read an upload and say whether it is fit to be prepared, or was before and is unchanged. */
export async function survey({ upload, limits, out, known }: SurveyTask): Promise<Survey> {
  let contentSha256: string | undefined;
  try {
    const bytes = await readUpload(upload.path, upload.id, limits.mostBytes);
    contentSha256 = sha256(bytes);
    if (known?.contentSha256 === contentSha256 && (await areIntact(out, known.outputs))) {
      return { unchanged: true };
    }
    if (isCompressed(bytes)) checkDrawing(bytes, upload.id);
    const facts = await inspectPhoto(bytes, { fileName: upload.id, maxPixels: limits.maxPixels });
    if (facts.format === "svg") checkDrawing(bytes, upload.id);
    return { facts, contentSha256 };
  } catch (error) {
    return refusal(error, contentSha256);
  }
}

/** Prepare an upload and write its files into a folder of the run's own. */
export async function prepareUpload(task: PrepareTask): Promise<Made | Refusal> {
  const { upload, limits, options, contentSha256, folder, stem } = task;
  try {
    await useDecoderThreads(1);
    const bytes = await readUpload(upload.path, upload.id, limits.mostBytes);
    if (sha256(bytes) !== contentSha256) {
      throw new SpotpitchError(
        "INPUT_CHANGING",
        `"${upload.id}" has changed since it was checked. Run the command again.`,
      );
    }
    const resolved = resolveOptions(options);
    const photo = await decodePhoto(bytes, { fileName: upload.id, maxPixels: limits.maxPixels });
    const triage = await triagePhoto(photo, resolved);
    if (process.ppid !== parent) process.exit(1);
    const { report, written } = await writePiece({
      folder,
      stem,
      // A drawing is rendered as large as the piece wants it.
      photo: photo.format === "svg" ? bytes : { photo: Promise.resolve(photo) },
      options,
      fileName: basename(upload.id),
      threads: 1,
    });
    const files: OutputFile[] = [];
    for (const path of written) files.push({ path: basename(path), sha256: sha256(await readFile(path)) });
    const preview = written.find((path) => path.endsWith(".preview.png"));
    const { job, runTime, prediction } = report;
    const findings = [...findingsOf(report.warnings), ...triage.findings];
    return {
      grade: gradeOf(findings),
      findings,
      warnings: report.warnings.filter(({ code }) => !code.startsWith("material-")),
      figures: {
        ...triage.figures,
        widthMm: job.widthMm,
        heightMm: job.heightMm,
        linesPerInch: job.linesPerInch,
        method: job.method,
        material: job.material,
        seconds: runTime.seconds,
        ...(prediction && { visualErrorRms: prediction.visualErrorRms }),
      },
      files,
      thumbnail: preview && Buffer.from(await thumbnail(await readFile(preview), job)).toString("base64"),
    };
  } catch (error) {
    return refusal(error, contentSha256);
  }
}

function checkDrawing(bytes: Uint8Array, name: string): void {
  const danger = drawingDanger(bytes);
  if (danger === undefined) return;
  throw new SpotpitchError(
    "INPUT_UNSAFE_DRAWING",
    `"${name}" is a drawing with ${danger}. Allowed: drawings that need no other file. Save it as plain SVG or as PNG.`,
    { received: extname(name) },
  );
}

/** What is wrong with the upload or its options; anything else is thrown, and ends the run. */
function refusal(error: unknown, contentSha256: string | undefined): Refusal {
  if (error instanceof SpotpitchError && /^(INPUT|OPTION)_/.test(error.code)) {
    const { code } = error;
    const message = sayRefusal(error, commandReader);
    // Not to be remembered: it says nothing of the content.
    if (code === "INPUT_CHANGING") return { refused: { code, message } };
    return { refused: { code, message }, ...(contentSha256 !== undefined && { contentSha256 }) };
  }
  // Causes do not cross from process to process, and the disk's own word is what the command needs.
  throw error instanceof SpotpitchError && error.code === "OUTPUT_UNWRITABLE"
    ? (error.cause ?? error)
    : error;
}
