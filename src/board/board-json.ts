import type { RunTime } from "../5-burn/run-time.js";
import { linesPerInchFromPitchMm } from "../core/units.js";
import { packageVersion } from "../core/version.js";
import type { BoardLayout, Place } from "./board-piece.js";
import type { BoardFigures } from "./board-words.js";

/** Run time of a board, and of its pieces one by one. */
export interface BoardTime {
  /** In one run over the whole board. */
  readonly whole: RunTime;
  /** The sum of the pieces, each in a run of its own, without the time to lay them. */
  readonly pieceByPieceS: number;
}

/** The figures of a board. */
export function boardFigures(
  { setting, columns, rows }: BoardLayout,
  { whole, pieceByPieceS }: BoardTime,
): BoardFigures {
  const { pitch, material } = setting;
  return {
    material,
    linesPerInch: tidy(linesPerInchFromPitchMm(pitch.acrossMm)),
    widthMm: tidy(columns * pitch.alongMm),
    heightMm: tidy(rows * pitch.acrossMm),
    seconds: whole.seconds,
    pieceByPieceSeconds: pieceByPieceS,
  };
}

/** The text of a board's JSON file: where each piece lies, and what one run takes. Paths are relative to this file. */
export function boardJson(
  name: string,
  layout: BoardLayout,
  time: BoardTime,
  pathFrom: (path: string) => string,
): string {
  const { columns, rows, places } = layout;
  const { pitch, levels, head } = layout.setting;
  const { lines, blankLines, beamOnSeconds } = time.whole;
  const { seconds, pieceByPieceSeconds, ...figures } = boardFigures(layout, time);
  const content = {
    tool: { name: "spotpitch", version: packageVersion() },
    board: name,
    ...figures,
    columns,
    rows,
    pitchAlongMm: pitch.alongMm,
    pitchAcrossMm: pitch.acrossMm,
    levels,
    speedMmPerS: head.speedMmPerS,
    passes: head.passes ?? 1,
    runTime: { seconds, lines, blankLines, beamOnSeconds, pieceByPieceSeconds },
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
const tidy = (value: number): number => Number(value.toFixed(6));
