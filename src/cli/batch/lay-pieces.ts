import { basename, join } from "node:path";
import type { BoardVerdicts, NotLaid } from "../../batch/board-records.js";
import type { UploadEntry } from "../../batch/entry.js";
import type { Verdict } from "../../batch/lists.js";
import type { OutputFile } from "../../batch/outcome.js";
import type { BoardPiece } from "../../board/board-piece.js";
import { burnSettingOf } from "../../board/burn-setting.js";
import { type Ground, layBySetting } from "../../board/lay-boards.js";
import { refusal, sayRefusal } from "../../core/refusals/refusals.js";
import { commandReader } from "../command-reader.js";
import type { BoardFolder } from "./boards.js";
import type { Job } from "./jobs.js";
import type { Ledger } from "./ledger.js";

export interface LayingContext {
  readonly out: string;
  readonly ledger: Pick<Ledger, "get">;
  readonly boards: BoardFolder;
  readonly signal?: AbortSignal;
}

/**
 * Lay the pieces of a pass on boards: those that are ready or have a note. What was decided at the desk counts more than the grade: one
 * that asks is laid once it is approved, and one that was sent back is not laid.
 */
export async function layPrepared(
  verdicts: readonly Verdict[],
  jobs: readonly Job[],
  ground: Ground,
  context: LayingContext,
): Promise<BoardVerdicts> {
  const jobOf = new Map(jobs.map((job) => [job.upload.id, job]));
  const pieces: BoardPiece[] = [];
  const notLaid: NotLaid[] = [];
  for (const { entry } of verdicts) {
    const job = jobOf.get(entry.file);
    if (!job || entry.state !== "prepared") continue;
    const reason = reasonNotToLay(entry, job);
    if (reason === undefined) pieces.push(pieceOf(entry, job, context));
    else notLaid.push({ file: entry.file, message: reason });
  }
  const { boards, leftOut } = layBySetting(pieces, ground);
  for (const { piece, reason } of leftOut)
    notLaid.push({ file: piece.name, message: sayRefusal(reason, commandReader) });
  const made = await context.boards.replace(boards, context.signal);
  return { boards: made.boards, notLaid: [...notLaid, ...made.notLaid] };
}

function reasonNotToLay({ grade, file, decision }: UploadEntry, { resolved }: Job): string | undefined {
  if (decision?.verdict === "sent-back")
    return `"${file}" was sent back at the desk${decision.note ? `: ${oneLine(decision.note)}` : "."}`;
  if (grade === "ask" && decision?.verdict !== "approved")
    return `"${file}" waits for the customer's answer. Approve it at the desk to lay it as it is.`;
  return resolved.wrap && sayRefusal(refusal("board-of-round-piece", { name: file }), commandReader);
}

const oneLine = (text: string): string => text.replace(/\s+/g, " ");

function pieceOf(
  { file, figures }: UploadEntry,
  { resolved, copies }: Job,
  { out, ledger }: LayingContext,
): BoardPiece {
  const { pitch } = resolved;
  const outputs = ledger.get(file)?.outputs ?? [];
  const fileOf = ({ path, sha256 }: OutputFile) => ({ path: join(out, path), sha256 });
  const burn = outputs.find(({ path }) => /\.burn\.[a-z]+$/.test(basename(path)));
  const preview = outputs.find(({ path }) => path.endsWith(".preview.png"));
  if (!burn || !figures) throw new Error(`The prepared piece ${file} has no bitmap.`);
  return {
    name: file,
    copies,
    // Sizes are whole pixels.
    columns: Math.round(figures.widthMm / pitch.alongMm),
    rows: Math.round(figures.heightMm / pitch.acrossMm),
    setting: burnSettingOf(resolved),
    bitmap: fileOf(burn),
    ...(preview && { preview: fileOf(preview) }),
  };
}
