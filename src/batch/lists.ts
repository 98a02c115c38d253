import Papa from "papaparse";
import { packageVersion } from "../core/version.js";
import { visible } from "../core/words.js";
import type { BoardVerdicts } from "./board-records.js";
import { type CustomerTexts, worded } from "./customer-note.js";
import { type Decision, latestDecisions } from "./decisions.js";
import { STILL_ARRIVING, type UploadEntry } from "./entry.js";
import { SET_ASIDE } from "./output-names.js";
import type { LedgerRecord } from "./records.js";
import { sha256 } from "./sha256.js";

/** The result of one upload in a batch. */
export interface Verdict {
  readonly entry: UploadEntry;
  /** The predicted piece, WebP in base64; absent if there is no picture. */
  readonly thumbnail?: string | undefined;
  /** The photo as it was sent, likewise. */
  readonly photo?: string | undefined;
  /** Whether it comes from an earlier run. */
  readonly kept: boolean;
}

/** The results of a pass. */
export interface PassResult {
  readonly verdicts: readonly Verdict[];
  /** Only if pieces are laid on boards. */
  readonly laid?: BoardVerdicts | undefined;
  /** Uploads that a pass under way has not come to yet, or that one without an end did not come to. */
  readonly remaining?: number;
}

/** What a row of the job sheet says for the lists alone. It is no part of the work, so a change of it does not cause the work again. */
export type FromSheet = Pick<UploadEntry, "upload" | "piece" | "quantity" | "note" | "columns">;

/** What a list takes of a record. */
type Listed = Pick<LedgerRecord, "entry"> & Partial<LedgerRecord>;

export function verdictOf(record: Listed, fromSheet: FromSheet = {}, kept = false): Verdict {
  const { entry, thumbnail, photo } = record;
  const named = { ...entry, ...fromSheet, ...namesOf(record) };
  return { entry: named, thumbnail, photo, kept };
}

function namesOf({
  contentSha256 = "",
  jobSha256 = "",
}: Listed): Pick<UploadEntry, "contentSha256" | "pieceSha256"> {
  return {
    ...(contentSha256 && { contentSha256 }),
    ...(jobSha256 && { pieceSha256: sha256(`${contentSha256} ${jobSha256}`) }),
  };
}

/** The verdicts with the words for customers and what was decided about the pieces: neither is a part of the work. */
export function listedVerdicts(
  verdicts: readonly Verdict[],
  decisions: readonly Decision[],
  words?: CustomerTexts,
): Verdict[] {
  const latest = latestDecisions(decisions);
  return verdicts.map((verdict) => {
    const entry = worded(verdict.entry, words);
    const found = latest.get(entry.pieceSha256 ?? "");
    if (!found || found.verdict === "open") return { ...verdict, entry };
    const { verdict: word, note, by, at } = found;
    return { ...verdict, entry: { ...entry, decision: { verdict: word, note, by, at } } };
  });
}

/** The text of `batch.json`. */
export function batchJson({ verdicts, laid, remaining = 0 }: PassResult): string {
  const tool = { name: "spotpitch", version: packageVersion() };
  const uploads = verdicts.map(({ entry }) => entry);
  return `${JSON.stringify({ tool, ...(remaining > 0 && { remaining }), uploads, ...laid }, null, 2)}\n`;
}

/** The text of `batch.csv`. Cells that look like formulae to a spreadsheet are escaped, because a file name may be one. */
export function batchCsv(verdicts: readonly Verdict[]): string {
  const rows = verdicts.map(({ entry }) => ({ ...rowOf(entry), ...pieceColumns(entry) }));
  const ours = new Set(rows.flatMap(Object.keys));
  const own = verdicts.map(({ entry }) => ownColumns(entry, ours));
  const heads = [...new Set([...rows, ...own].flatMap(Object.keys))];
  const cells = rows.map((row, i) => {
    const all: Readonly<Record<string, string>> = { ...row, ...own[i] };
    return heads.map((head) => visible(Object.hasOwn(all, head) ? all[head] : ""));
  });
  const table = { fields: heads.map(visible), data: cells };
  return `${Papa.unparse(table, { escapeFormulae: true, newline: "\n" })}\n`;
}

/** What a job sheet says of a piece. Without such a sheet there are no such columns. */
const pieceColumns = ({ upload, piece, quantity }: UploadEntry): Record<string, string> => ({
  ...(upload !== undefined && { upload, piece: piece ?? "" }),
  ...(quantity !== undefined && { quantity: String(quantity) }),
});

/** The shop's own columns, under their own heads, unless one of ours has the same. */
const ownColumns = ({ columns = {} }: UploadEntry, ours: ReadonlySet<string>): Record<string, string> =>
  Object.fromEntries(
    Object.entries(columns).map(([head, cell]) => [ours.has(head) ? `sheet ${head}` : head, cell]),
  );

function rowOf(entry: UploadEntry): Record<string, string> {
  const {
    file,
    state,
    grade,
    code,
    message,
    customerNote,
    customerMore,
    note,
    outputs,
    figures,
    warnings,
    decision,
  } = entry;
  return {
    file,
    state,
    grade,
    code,
    message,
    "customer note": customerNote ?? "",
    "customer more": customerMore?.join(" ") ?? "",
    note: note ?? "",
    "width mm": figures?.widthMm.toFixed(2) ?? "",
    "height mm": figures?.heightMm.toFixed(2) ?? "",
    "lines per inch": figures?.linesPerInch.toFixed(1) ?? "",
    "pixels per mm": figures?.pxPerMm.toFixed(2) ?? "",
    method: figures?.method ?? "",
    material: figures?.material ?? "",
    seconds: figures?.seconds.toFixed(0) ?? "",
    "power percent": figures?.power?.percent?.toFixed(1) ?? "",
    passes: figures?.power?.passes.toFixed(0) ?? "",
    warnings: warnings?.map((warning) => warning.code).join(" ") ?? "",
    decision: decision?.verdict ?? "",
    "decision note": decision?.note ?? "",
    "decided by": decision?.by ?? "",
    outputs: outputs.join(" "),
  };
}

/** A summary of a batch: the counts, then each upload that needs attention. */
export function batchSummary(verdicts: readonly Verdict[], out: string): string {
  const count = (is: (verdict: Verdict) => boolean): number => verdicts.filter(is).length;
  const graded = (grade: string): number =>
    count(({ entry }) => entry.state === "prepared" && entry.grade === grade);
  const refused = verdicts.filter(({ entry }) => entry.state === "refused");
  // Whom somebody has approved at the desk, nobody need ask any more.
  const ask = verdicts.filter(
    ({ entry: { state, grade, decision } }) =>
      state === "prepared" && grade === "ask" && decision?.verdict !== "approved",
  );
  const waiting = verdicts.filter(({ entry }) => entry.state === "waiting");
  const withdrawn = verdicts.filter(({ entry, kept }) => entry.state === "withdrawn" && !kept);
  const kept = count(({ entry, kept }) => kept && entry.state !== "withdrawn");
  const lines = [
    `uploads       ${count(({ entry }) => entry.state !== "withdrawn")}: ${count(({ entry }) => entry.state === "prepared")} prepared, ${refused.length} refused${waiting.length > 0 ? `, ${waiting.length} waiting` : ""}${kept > 0 ? `; ${kept} unchanged since an earlier run` : ""}`,
    `grades        ${graded("ready")} ready, ${graded("note")} with a note, ${ask.length} to ask about`,
    ...ask.map(
      ({ entry }) =>
        `ask           ${visible(entry.file)}: ${entry.findings.map(({ code }) => code).join(", ")}`,
    ),
    ...withdrawn.map(
      ({ entry }) => `withdrawn     ${visible(entry.file)}: what was made of it lies in ${SET_ASIDE}`,
    ),
    ...waiting.map(
      ({ entry }) =>
        `waiting       ${visible(entry.file)}${entry.code === STILL_ARRIVING ? ", still arriving" : ", for a row of the job sheet"}`,
    ),
    ...refused.map(({ entry }) => `refused       ${entry.code}: ${visible(entry.message)}`),
    `open          ${out}/index.html`,
  ];
  return `${lines.join("\n")}\n`;
}
