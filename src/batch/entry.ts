import type { PowerToSet, Warning } from "../6-report/report.js";
import type { ErrorCode } from "../core/errors.js";
import type { ShownUnits } from "../core/shown-units.js";
import type { Finding } from "../pipeline/triage/findings.js";
import { type Grade, gradeOf, type TriageFigures } from "../pipeline/triage/findings.js";
import type { Decision } from "./decisions.js";
import { SET_ASIDE } from "./output-names.js";

/** The result of one upload, as in `batch.json`. The first six keys are promised; more may be added. */
export interface UploadEntry {
  /** Path below the folder given; for a piece with a name of its own, that with the name: `boat.jpg [small]`. */
  readonly file: string;
  /**
   * `waiting`: a job sheet was given, and no row of it names the upload yet; or the file is still arriving. `withdrawn`: it was prepared, and its file is gone since.
   */
  readonly state: "prepared" | "waiting" | "refused" | "withdrawn";
  readonly grade: Grade;
  /** `READY`, the worst finding's code, or the error's. */
  readonly code: string;
  /** What the workshop should know about it; may be empty. */
  readonly message: string;
  /** Paths below the output folder. */
  readonly outputs: readonly string[];
  /** What to write to the customer: the most important reason, in one or two sentences. Absent if there is nothing. */
  readonly customerNote?: string;
  /** The other reasons, each in one or two sentences. */
  readonly customerMore?: readonly string[];
  /** The note of the job sheet. */
  readonly note?: string;
  /** The path of the file and the piece's name, if the job sheet gives it one: the file may have several pieces. */
  readonly upload?: string;
  readonly piece?: string;
  /** How many of the piece the job sheet asks for. */
  readonly quantity?: number;
  /** Columns of the job sheet that are the shop's own, by their heads. */
  readonly columns?: Readonly<Record<string, string>>;
  readonly findings: readonly Finding[];
  /** Warnings of the piece's report for the workshop, without those about the material, which are the same for all pieces. */
  readonly warnings?: readonly Warning[];
  readonly figures?: PieceFigures;
  /** The content of the upload. Absent if it could not be read, or was not yet. */
  readonly contentSha256?: string;
  /** Identifies content and options: a decision counts for this piece alone. */
  readonly pieceSha256?: string;
  /** What was decided at the desk about this piece. Absent if nothing was, or it was taken back. */
  readonly decision?: Pick<Decision, "verdict" | "note" | "by" | "at">;
}

export type PiecePower = Pick<PowerToSet, "percent" | "passes" | "speedMmPerS" | "isSpeedAssumed">;

export interface PieceFigures extends TriageFigures {
  readonly widthMm: number;
  readonly heightMm: number;
  /** The units in which pages show sizes. */
  readonly units: ShownUnits;
  readonly linesPerInch: number;
  readonly method: string;
  readonly material: string;
  readonly seconds: number;
  /** The power of each pass. Only if the full-tone setting was given. */
  readonly power?: PiecePower;
  /** Options of the machine that were not given: their defaults were assumed. */
  readonly assumed: readonly string[];
  /** On a part of a round piece: where the bitmap starts, angle from the mark and distance from the rim. */
  readonly start?: string;
  /** Absent without a prediction. */
  readonly visualErrorRms?: number;
}

/** The facts about a prepared piece. */
export interface PieceVerdict {
  /** Worst first. */
  readonly findings: readonly Finding[];
  readonly figures: PieceFigures;
  readonly warnings?: readonly Warning[];
}

/** An entry for a prepared upload. */
export function preparedEntry(
  file: string,
  { findings, figures, warnings = [] }: PieceVerdict,
  outputs: readonly string[],
): UploadEntry {
  return {
    file,
    state: "prepared",
    grade: gradeOf(findings),
    code: findings[0]?.code ?? "READY",
    message: findings.map((finding) => finding.message).join(" "),
    outputs,
    findings,
    ...(warnings.length > 0 && { warnings }),
    figures,
  };
}

/** An entry for an upload that cannot be prepared. */
export const refusedEntry = (file: string, code: ErrorCode, message: string): UploadEntry => ({
  file,
  state: "refused",
  grade: "ask",
  code,
  message,
  outputs: [],
  findings: [],
});

/** An entry for an upload that no row of the job sheet names yet. Nobody knows how large it should be, or on what. */
export const waitingEntry = (file: string, outputs: readonly string[]): UploadEntry => ({
  file,
  state: "waiting",
  grade: "ask",
  code: "NOT_IN_SHEET",
  message: `No row of the job sheet names "${file}", so it waits. Add a row for it; or set "unlisted" to "prepare", and such uploads get the options that all share.${outputs.length > 0 ? ` What an earlier run made of it lies in ${SET_ASIDE}.` : ""}`,
  outputs,
  findings: [],
});

/** An entry for an upload whose transfer pauses: its file is not complete, and nobody knows yet whether more will come. */
export const arrivingEntry = (file: string, outputs: readonly string[]): UploadEntry => ({
  file,
  state: "waiting",
  grade: "ask",
  code: STILL_ARRIVING,
  message: `"${file}" is still arriving: it is not complete yet. It is looked at again when it has not changed for a while, and judged as it is if nothing comes any more.${outputs.length > 0 ? ` What an earlier run made of it lies in ${SET_ASIDE}.` : ""}`,
  outputs,
  findings: [],
});

export const STILL_ARRIVING = "STILL_ARRIVING";

/** Why an upload is withdrawn: its file is gone, or no row of the job sheet asks for the piece any more. */
export type WithdrawnBecause = "UPLOAD_GONE" | "ROW_GONE";

/** An entry for an upload that is withdrawn. `outputs` is where its files lie now. */
export const withdrawnEntry = (
  file: string,
  outputs: readonly string[],
  code: WithdrawnBecause,
): UploadEntry => ({
  file,
  state: "withdrawn",
  grade: "note",
  code,
  message: `${code === "UPLOAD_GONE" ? `"${file}" was withdrawn or renamed: there is no such file any more.` : `No row of the job sheet asks for "${file}" any more.`} What was made of it lies in ${SET_ASIDE} now, so that nobody takes it for an open job. Delete it there if nobody needs it.`,
  outputs,
  findings: [],
});
