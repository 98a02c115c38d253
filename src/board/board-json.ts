import type { RunTime } from "../5-burn/run-time.js";
import { linesPerInchFromPitchMm } from "../core/units.js";
import { packageVersion } from "../core/version.js";
import type { BoardLayout, Place } from "./board-piece.js";

/** Run time of a board, and of its pieces one by one. */
export interface BoardTime {
  /** In one run over the whole board. */
  readonly whole: RunTime;
  /** The sum of the pieces, each in a run of its own, without the time to lay them. */
  readonly pieceByPieceS: number;
}

/** The text of a board's JSON file: where each piece lies, and what one run takes. Paths are relative to this file. */
export function boardJson(
  name: string,
  { setting, columns, rows, places }: BoardLayout,
  { whole, pieceByPieceS }: BoardTime,
  pathFrom: (path: string) => string,
): string {
  const { pitch, levels, material, head } = setting;
  const { seconds, lines, blankLines, beamOnSeconds } = whole;
  const content = {
    tool: { name: "spotpitch", version: packageVersion() },
    board: name,
    widthMm: tidy(columns * pitch.alongMm),
    heightMm: tidy(rows * pitch.acrossMm),
    columns,
    rows,
    linesPerInch: tidy(linesPerInchFromPitchMm(pitch.acrossMm)),
    pitchAlongMm: pitch.alongMm,
    pitchAcrossMm: pitch.acrossMm,
    levels,
    material,
    speedMmPerS: head.speedMmPerS,
    passes: head.passes ?? 1,
    runTime: { seconds, lines, blankLines, beamOnSeconds, pieceByPieceSeconds: pieceByPieceS },
    pieces: places.map((place, i) => ({ number: i + 1, ...placeOf(place, pathFrom) })),
  };
  return `${JSON.stringify(content, null, 2)}\n`;
}

function placeOf({ piece, copy, left, top, pocket }: Place, pathFrom: (path: string) => string) {
  const { name, columns, rows, setting, bitmap } = piece;
  const { alongMm, acrossMm } = setting.pitch;
  return {
    name,
    copy,
    leftMm: tidy(left * alongMm),
    topMm: tidy(top * acrossMm),
    widthMm: tidy(columns * alongMm),
    heightMm: tidy(rows * acrossMm),
    ...{ left, top, columns, rows },
    ...(pocket && {
      pocket: pocket.name,
      offMiddleMm: { along: tidy(pocket.offMiddleMm.along), across: tidy(pocket.offMiddleMm.across) },
    }),
    bitmap: pathFrom(bitmap.path),
    sha256: bitmap.sha256,
  };
}

/** Without the noise of the last binary digits. */
export const tidy = (value: number): number => Number(value.toFixed(6));
