import { readFileSync } from "node:fs";
import { mkdir, rename, rm } from "node:fs/promises";
import { basename, join, posix, relative, sep } from "node:path";
import writeFileAtomic from "write-file-atomic";
import {
  type BoardEntry,
  type BoardRecord,
  type BoardVerdicts,
  type NotLaid,
  parseBoardRecords,
} from "../../batch/board-records.js";
import { BOARDS } from "../../batch/output-names.js";
import { sha256 } from "../../batch/sha256.js";
import { boardFigures } from "../../board/board-json.js";
import type { BoardLayout, PieceFile } from "../../board/board-piece.js";
import { boardName } from "../../board/board-words.js";
import { SpotpitchError } from "../../core/errors.js";
import { packageVersion } from "../../core/version.js";
import { writeBoard } from "../boards.js";
import { areIntact, outputFile, removeOwn, type WithdrawBoards } from "./output-folder.js";

/** The boards in an output folder. */
export interface BoardFolder {
  /** Called before what was made of an upload changes. */
  readonly withdraw: WithdrawBoards;
  /** The boards of an earlier run whose files are all there. */
  readonly standing: () => Promise<readonly BoardEntry[]>;
  /**
   * Make these boards. Those that are there already stay under their names, and all others go. A board with a piece whose file has
   * changed is not made. Between two of them it stops if the signal aborts.
   */
  readonly replace: (layouts: readonly BoardLayout[], signal?: AbortSignal) => Promise<BoardVerdicts>;
}

/**
 * Boards are recorded before their files appear, and removed before their record goes. So a run that is killed leaves no file of a board
 * that nobody knows: the next run finds the board incomplete, and makes or removes it.
 *
 * @param out the output folder
 * @param recordPath where the records are kept
 * @param work a folder for unfinished files, on the same disk
 */
export function openBoards(out: string, recordPath: string, work: string): BoardFolder {
  let records = parseBoardRecords(textOf(recordPath));
  const keep = async (next: readonly BoardRecord[]): Promise<void> => {
    // In an order of their own, so that the same boards leave the same record however often a run was stopped.
    records = [...next].sort((a, b) => (a.entry.board < b.entry.board ? -1 : 1));
    await writeFileAtomic(recordPath, `${JSON.stringify(records)}\n`);
  };
  const removeAll = async (gone: readonly BoardRecord[]): Promise<void> => {
    if (gone.length === 0) return;
    for (const { outputs } of gone) for (const output of outputs) await removeOwn(out, output);
    await keep(records.filter((record) => !gone.includes(record)));
  };
  const make = async (layout: BoardLayout, name: string, boardSha256: string): Promise<BoardEntry> => {
    const folder = join(work, name);
    const { written, time } = await writeBoard(layout, folder, name, join(out, BOARDS));
    const outputs = await Promise.all(written.map((path) => outputFile(path, BOARDS)));
    const paths = outputs.map(({ path }) => path);
    const entry = { board: name, ...boardFigures(layout, time), pieces: piecesOn(layout), outputs: paths };
    await keep([...records, { entry, boardSha256, outputs }]);
    await mkdir(join(out, BOARDS), { recursive: true });
    for (const { path } of outputs) await rename(join(folder, basename(path)), join(out, path));
    await rm(folder, { recursive: true });
    return entry;
  };
  return {
    withdraw: (id) => removeAll(records.filter(({ entry }) => entry.pieces.some(({ file }) => file === id))),
    async standing() {
      const there: BoardEntry[] = [];
      for (const { entry, outputs } of records) if (await areIntact(out, outputs)) there.push(entry);
      return there;
    },
    async replace(layouts, signal) {
      const wanted = layouts.map((layout) => ({ layout, boardSha256: boardHash(layout, out) }));
      const current: BoardRecord[] = [];
      for (const record of records) {
        const isWanted = wanted.some(({ boardSha256 }) => boardSha256 === record.boardSha256);
        if (isWanted && (await areIntact(out, record.outputs))) current.push(record);
      }
      await removeAll(records.filter((record) => !current.includes(record)));
      const newName = namesBeside(current);
      const boards: BoardEntry[] = [];
      const notLaid: NotLaid[] = [];
      for (const { layout, boardSha256 } of wanted) {
        signal?.throwIfAborted();
        const there = current.find((record) => record.boardSha256 === boardSha256);
        if (there) {
          boards.push(there.entry);
          continue;
        }
        const name = newName(boardSha256);
        try {
          boards.push(await make(layout, name, boardSha256));
        } catch (error) {
          notLaid.push(...notMade(layout, name, error));
        }
      }
      return { boards, notLaid };
    },
  };
}

/** The pieces of a board that cannot be made because a file of one of them has changed. Every other error is thrown again. */
function notMade(layout: BoardLayout, name: string, error: unknown): NotLaid[] {
  if (!(error instanceof SpotpitchError && error.code.startsWith("INPUT_"))) throw error;
  return piecesOn(layout).map(({ file }) => ({
    file,
    message: `"${file}" is not laid on ${name}, which cannot be made: ${error.message}`,
  }));
}

/** The text of a file; empty if there is none yet. */
function textOf(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return "";
  }
}

/** The uploads on a board, and how often each lies there. */
function piecesOn({ places }: BoardLayout): BoardEntry["pieces"] {
  const copies = new Map<string, number>();
  for (const { piece } of places) copies.set(piece.name, (copies.get(piece.name) ?? 0) + 1);
  return [...copies].map(([file, count]) => ({ file, copies: count }));
}

/** Identifies everything that the files of a board depend on, but its name. The same in every output folder. */
function boardHash({ setting, columns, rows, places }: BoardLayout, out: string): string {
  const inside = (file: PieceFile | undefined) =>
    file && [relative(out, file.path).split(sep).join(posix.sep), file.sha256];
  const laid = places.map(({ piece, copy, left, top, pocket }) => [
    ...[piece.name, piece.columns, piece.rows, inside(piece.bitmap), inside(piece.preview)],
    ...[copy, left, top, pocket],
  ]);
  return sha256(JSON.stringify([packageVersion(), setting, columns, rows, laid]));
}

const HASH_DIGITS = 6;

/**
 * Names for new boards: the first numbers that no board has, each with the beginning of the board's hash. A file of one name thus never
 * changes its content, and somebody who has burnt it can tell it from others.
 */
function namesBeside(current: readonly BoardRecord[]): (boardSha256: string) => string {
  const taken = new Set(current.map(({ entry }) => entry.board.slice(0, -(HASH_DIGITS + 1))));
  let next = 0;
  return (boardSha256) => {
    while (taken.has(boardName(next))) next++;
    return `${boardName(next++)}-${boardSha256.slice(0, HASH_DIGITS)}`;
  };
}
