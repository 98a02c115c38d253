import { readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Report } from "../6-report/report.js";
import { sha256 } from "../batch/sha256.js";
import { boardFigures } from "../board/board-json.js";
import type { BoardPiece } from "../board/board-piece.js";
import { boardName, boardWords } from "../board/board-words.js";
import { burnSettingOf } from "../board/burn-setting.js";
import { type Ground, layPieces } from "../board/lay-boards.js";
import { refusedWith } from "../core/refusals/refusals.js";
import type { ResolvedOptions } from "../options/options.js";
import { writeBoard } from "./boards.js";
import { row } from "./labelled-row.js";
import { boardFilesOf } from "./old-boards.js";

/** A piece that was written, and on what its copies are laid. */
export interface CopiedPiece {
  readonly folder: string;
  /** The start of the piece's file names. */
  readonly stem: string;
  readonly fileName: string;
  readonly report: Report;
  readonly written: readonly string[];
  readonly resolved: ResolvedOptions;
  readonly copies: number;
}

/** Boards that were written, and lines for the summary about them. */
export interface WrittenCopies {
  readonly lines: readonly string[];
  readonly files: readonly string[];
}

/**
 * Lay copies of a written piece on boards: `boat.board-01.burn.png` and so on. Boards of an earlier run are removed first, because they
 * show the piece as it was. Throws `OPTION_TOO_LARGE` for a piece that does not fit.
 */
export async function writeCopies(copied: CopiedPiece, ground: Ground): Promise<WrittenCopies> {
  const { folder, stem } = copied;
  for (const name of await boardFilesOf(folder, stem)) await rm(join(folder, name));
  const { boards, leftOut } = layPieces([await pieceOf(copied)], ground);
  for (const { reason } of leftOut) throw refusedWith(reason, { written: true });
  const lines: string[] = [];
  const files: string[] = [];
  for (const [i, board] of boards.entries()) {
    const name = boardName(i);
    const { written, time } = await writeBoard(board, folder, `${stem}.${name}`);
    lines.push(
      row(i === 0 ? "boards" : "", `${name}: ${boardWords(board.places.length, boardFigures(board, time))}`),
    );
    files.push(...written);
  }
  return { lines, files };
}

async function pieceOf({ fileName, report, written, resolved, copies }: CopiedPiece): Promise<BoardPiece> {
  const fileOf = async (path: string) => ({ path, sha256: sha256(await readFile(path)) });
  const burn = written.find((path) => /\.burn\.[a-z]+$/.test(path)) ?? "";
  const preview = written.find((path) => path.endsWith(".preview.png"));
  const { columns, rows } = report.job;
  return {
    ...{ name: fileName, copies, columns, rows, setting: burnSettingOf(resolved) },
    bitmap: await fileOf(burn),
    ...(preview !== undefined && { preview: await fileOf(preview) }),
  };
}
