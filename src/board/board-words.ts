import { linesPerInchFromPitchMm } from "../core/units.js";
import { densityWords, durationWords } from "../core/words.js";
import type { BoardTime } from "./board-json.js";
import type { BoardLayout } from "./board-piece.js";

/** `board-01`, from the first board on. */
export const boardName = (index: number): string => `board-${String(index + 1).padStart(2, "0")}`;

/** A board in one line. */
export function boardWords(
  { setting, columns, rows, places }: BoardLayout,
  { whole, pieceByPieceS }: BoardTime,
): string {
  const { pitch, material } = setting;
  const [widthMm, heightMm] = [columns * pitch.alongMm, rows * pitch.acrossMm].map((mm) => Math.round(mm));
  const lines = densityWords(linesPerInchFromPitchMm(pitch.acrossMm));
  return `${places.length === 1 ? "1 piece" : `${places.length} pieces`} on ${widthMm} × ${heightMm} mm of ${material}, ${lines} lines per inch; about ${durationWords(whole.seconds)} in one run, ${durationWords(pieceByPieceS)} piece by piece`;
}
