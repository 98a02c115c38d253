import { densityWords, durationWords, visible } from "../core/words.js";

/** `board-01`, from the first board on. */
export const boardName = (index: number): string => `board-${String(index + 1).padStart(2, "0")}`;

/** What a board is to somebody who burns it. */
export interface BoardFigures {
  readonly material: string;
  readonly linesPerInch: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Of one run over the whole board, and of its pieces one by one. */
  readonly seconds: number;
  readonly pieceByPieceSeconds: number;
}

/** A board in one line. */
export function boardWords(pieces: number, board: BoardFigures): string {
  const { material, linesPerInch, widthMm, heightMm, seconds, pieceByPieceSeconds } = board;
  const size = `${Math.round(widthMm)} × ${Math.round(heightMm)} mm of ${visible(material)}`;
  return `${pieces === 1 ? "1 piece" : `${pieces} pieces`} on ${size}, ${densityWords(linesPerInch)} lines per inch; about ${durationWords(seconds)} in one run, ${durationWords(pieceByPieceSeconds)} piece by piece`;
}
