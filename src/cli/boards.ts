import { readFile } from "node:fs/promises";
import { posix, relative, sep } from "node:path";
import { sha256 as sha256Of } from "../batch/sha256.js";
import { type BoardTime, boardJson } from "../board/board-json.js";
import { type BoardOptions, flatBoardOf } from "../board/board-options.js";
import type { BoardLayout, PieceFile } from "../board/board-piece.js";
import { readJig } from "../board/jig.js";
import type { Ground } from "../board/lay-boards.js";
import { makeBoard } from "../board/make-board.js";
import { refusal } from "../core/refusals/refusals.js";
import { readJsonFile } from "./input-files.js";
import { openOutputSet } from "./output-files.js";
import { refused } from "./refusals.js";

/**
 * Where pieces are laid; undefined if each is burnt alone. Throws `OPTION_CONFLICT` for a board and a jig, and `INPUT_*` for a jig file
 * that cannot be used.
 */
export async function groundOf(options: BoardOptions): Promise<Ground | undefined> {
  const board = flatBoardOf(options);
  const { jig: file } = options;
  if (file === undefined) return board && { board };
  if (board) throw refusal("board-and-jig", {});
  const jig = readJig(await readJsonFile(file, "jig file"));
  if (typeof jig === "string") throw refused.unusable("jig file", file, jig);
  return { jig };
}

/** What to know about options of boards that have no effect, in sentences. */
export function idleBoardWords(options: BoardOptions): string[] {
  const { boardGapMm, boardMarginMm, boardSizeMm, jig, copies } = options;
  if (boardSizeMm) return [];
  return [
    ...(boardGapMm === undefined ? [] : ["--board-gap has no effect without --board."]),
    ...(boardMarginMm === undefined ? [] : ["--board-margin has no effect without --board."]),
    ...(copies === undefined || jig !== undefined
      ? []
      : ["--copies has no effect without --board or --jig."]),
  ];
}

/** A board that was written. */
export interface WrittenBoard {
  readonly written: readonly string[];
  readonly time: BoardTime;
}

/**
 * Write the files of a board, all or none: the bitmap, a preview unless a piece has none, and where each piece lies.
 *
 * @param stem the start of the files' names
 * @param place the folder in which the files will lie in the end, if it is another one
 */
export async function writeBoard(
  layout: BoardLayout,
  folder: string,
  stem: string,
  place = folder,
): Promise<WrittenBoard> {
  const burn = `${stem}.burn.${layout.setting.format}`;
  const [preview, json] = [`${stem}.preview.png`, `${stem}.json`];
  const files = await openOutputSet(folder, [burn, preview, json]);
  try {
    const time = await makeBoard(layout, {
      read: readAsWritten,
      burn: (bytes) => files.write(burn, bytes),
      preview: (bytes) => files.write(preview, bytes),
    });
    const pathFrom = (path: string): string => relative(place, path).split(sep).join(posix.sep);
    await files.write(json, boardJson(stem, layout, time, pathFrom));
    return { written: await files.complete(), time };
  } catch (error) {
    await files.abandon();
    throw error;
  }
}

/** A file of a piece. It is on a board only with the content that was prepared. */
async function readAsWritten({ path, sha256 }: PieceFile): Promise<Uint8Array> {
  const bytes = await readFile(path).catch((cause) => {
    throw refused.unreadable("file", path, cause);
  });
  if (sha256Of(bytes) !== sha256) throw refused.pieceChanged(path);
  return bytes;
}
