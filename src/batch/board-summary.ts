import { boardWords } from "../board/board-words.js";
import { visible } from "../core/words.js";
import { type BoardVerdicts, piecesOn } from "./board-records.js";

/** The boards of a pass, for the terminal: one line each, then every piece that lies on none. Empty without boards. */
export function boardSummary(laid: BoardVerdicts | undefined): string {
  if (!laid) return "";
  const lines = [
    ...laid.boards.map((board) => `board         ${board.outputs[0]}: ${boardWords(piecesOn(board), board)}`),
    ...(laid.boards.length === 0
      ? [`board         none${laid.notLaid.length === 0 ? ": no piece is ready for one" : ""}`]
      : []),
    ...laid.notLaid.map(({ message }) => `not on board  ${visible(message)}`),
  ];
  return `${lines.join("\n")}\n`;
}
