/** The record of a batch's boards. It shows which files are a board's, and of which uploads. */
import * as z from "zod";
import type { BoardFigures } from "../board/board-words.js";
import type { OutputFile } from "./outcome.js";
import { recordedFiles } from "./records.js";

/** What `batch.json` says about a board. */
export interface BoardEntry extends BoardFigures {
  /** `board-01-3fa9c2` */
  readonly board: string;
  /** The uploads on it, and how often each lies there. */
  readonly pieces: readonly { readonly file: string; readonly copies: number }[];
  /** Paths below the output folder. */
  readonly outputs: readonly string[];
}

/** How many pieces lie on a board, copies counted. */
export const piecesOn = ({ pieces }: BoardEntry): number =>
  pieces.reduce((sum, { copies }) => sum + copies, 0);

/** A piece that was prepared and lies on no board. */
export interface NotLaid {
  readonly file: string;
  readonly message: string;
}

/** All about the boards of a pass. */
export interface BoardVerdicts {
  readonly boards: readonly BoardEntry[];
  readonly notLaid: readonly NotLaid[];
}

const entrySchema = z.object({
  board: z.string(),
  material: z.string(),
  linesPerInch: z.number(),
  widthMm: z.number(),
  heightMm: z.number(),
  seconds: z.number(),
  pieceByPieceSeconds: z.number(),
  pieces: z.array(z.object({ file: z.string(), copies: z.number() })),
  outputs: z.array(z.string()),
});

const recordSchema = z
  .object({
    entry: entrySchema,
    boardSha256: z.string(),
    outputs: recordedFiles,
  })
  .refine(
    ({ entry, outputs }) => JSON.stringify(entry.outputs) === JSON.stringify(outputs.map(({ path }) => path)),
  );

export interface BoardRecord {
  readonly entry: BoardEntry;
  /** Identifies everything that the board's files depend on. */
  readonly boardSha256: string;
  readonly outputs: readonly OutputFile[];
}

/** Read the records of all boards. Those of a damaged file are lost: its boards are made again over the old ones. */
export function parseBoardRecords(text: string): BoardRecord[] {
  try {
    return z.array(recordSchema).safeParse(JSON.parse(text)).data ?? [];
  } catch {
    return [];
  }
}
