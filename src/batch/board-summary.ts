import { densityWords, durationWords, visible } from "../core/words.js";
import type { BoardEntry, BoardVerdicts } from "./board-records.js";

/** The boards of a pass, for the terminal: one line each, then every piece that lies on none. Empty without boards. */
export function boardSummary(laid: BoardVerdicts | undefined): string {
  if (!laid) return "";
  const lines = [
    ...laid.boards.map((board) => `board         ${boardLine(board)}`),
    ...(laid.boards.length === 0 ? ["board         none: no piece is ready for one"] : []),
    ...laid.notLaid.map(({ message }) => `not on board  ${visible(message)}`),
  ];
  return `${lines.join("\n")}\n`;
}

function boardLine({ outputs, pieces, linesPerInch, material, ...figures }: BoardEntry): string {
  const { widthMm, heightMm, seconds, pieceByPieceSeconds } = figures;
  const count = pieces.reduce((sum, { copies }) => sum + copies, 0);
  const size = `${Math.round(widthMm)} × ${Math.round(heightMm)} mm of ${visible(material)}`;
  return `${outputs[0]}: ${count === 1 ? "1 piece" : `${count} pieces`} on ${size}, ${densityWords(linesPerInch)} lines per inch; about ${durationWords(seconds)} in one run, ${durationWords(pieceByPieceSeconds)} piece by piece`;
}
