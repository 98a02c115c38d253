import type { CardPattern } from "../core/card-pattern.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import { refusal } from "../core/refusals/refusals.js";
import { type CodeModules, codeModules } from "./card-code.js";
import { type CardGrid, cardGrid, pixelsOf } from "./card-grid.js";
import { type CardSpec, codeText } from "./card-spec.js";
import { BARE, SOLID } from "./catalogue.js";
import { type Cell, type Cells, GAP_MM, LARGEST_PATCH_MM, layCells } from "./cells.js";
import { cellName, codeAreaOf, leastCodeMm } from "./layout.js";

/** Steps of the wedge, evenly spaced in L* between bare and solid. */
export const CHECK_STEPS = 13;
/** Fewer repeats do not tell a wrong tone from a spoilt patch. */
const LEAST_REPEATS = 3;
/** The surface of light through them has ten numbers, and the contrast is one more. */
const LEAST_REFERENCES = 16;

/** A patch of a check card. */
export interface CheckPatch {
  /** Its place as on a chessboard, as on a test card. */
  readonly id: string;
  /** A reference, or the number of a step: 1 is the nearest to bare. */
  readonly shows: "bare" | "solid" | number;
  readonly repeat: number;
  /** Starts on an even line. */
  readonly area: PixelRectangle;
}

/** A check card, before its tones are halftoned. */
export interface CheckLayout {
  readonly spec: CardSpec;
  readonly grid: CardGrid;
  readonly code: CodeModules;
  readonly codeArea: PixelRectangle;
  /** The place of the photo. It starts on an even line. */
  readonly photoArea: PixelRectangle;
  readonly patches: readonly CheckPatch[];
}

/**
 * Where everything lies on a check card: the code in the middle, the photo at its left, references all round, and the wedge in
 * what is left, row by row, to and fro. Throws `OPTION_CONFLICT` for a card that is too small.
 */
export function checkLayout(spec: CardSpec): CheckLayout {
  const grid = cardGrid(spec);
  const code = codeModules(codeText(spec));
  const needs = { codeMm: leastCodeMm(code, grid), patchMm: LARGEST_PATCH_MM, enough: 1 };
  const cells = layCells(spec, needs);
  const photo = cells && photoBlock(cells);
  if (!cells || !photo) throw refusal("check-card-too-small", {});
  const patches = placed(
    cells.cells.filter((cell) => !isWithin(photo, cell)),
    grid,
  );
  const steps = patches.filter(({ shows }) => typeof shows === "number").length;
  const isEnough = steps >= LEAST_REPEATS * CHECK_STEPS && patches.length - steps >= LEAST_REFERENCES;
  if (!isEnough) throw refusal("check-card-too-small", {});
  return {
    ...{ spec, grid, code, patches },
    codeArea: codeAreaOf(cells, code, grid),
    photoArea: photoAreaOf(photo, cells.cells, grid),
  };
}

/** What a layout draws with whole patterns. */
export const referencesOf = ({ patches }: CheckLayout) =>
  patches.flatMap(({ shows, ...patch }) =>
    typeof shows === "number" ? [] : [{ ...patch, pattern: patternOf(shows) }],
  );

const patternOf = (shows: "bare" | "solid"): CardPattern => (shows === "bare" ? BARE : SOLID);

/** Cells from a first to a last one, both included. */
interface Block {
  readonly columns: readonly [first: number, last: number];
  readonly rows: readonly [first: number, last: number];
}

/** Rows above and below the photo that stay for references and the wedge. */
const ROWS_BESIDE = 2;

/** The cells of the photo: beside the code, with a column at its left. Undefined if there are fewer than three each way. */
function photoBlock({ cells, codeArea }: Cells): Block | undefined {
  const last = Math.max(...cells.map(({ row }) => row));
  const beside = cells.filter(({ leftMm }) => leftMm < codeArea.leftMm).map(({ column }) => column);
  const block = {
    columns: [1, Math.max(0, ...beside)],
    rows: [ROWS_BESIDE, last - ROWS_BESIDE],
  } as const;
  const isLarge = [block.columns, block.rows].every(([from, to]) => to - from >= 2);
  return isLarge ? block : undefined;
}

const isWithin = ({ columns, rows }: Block, { column, row }: Cell): boolean =>
  column >= columns[0] && column <= columns[1] && row >= rows[0] && row <= rows[1];

function photoAreaOf(block: Block, cells: readonly Cell[], { pitch }: CardGrid): PixelRectangle {
  const inside = cells.filter((cell) => isWithin(block, cell));
  const [leftMm, topMm] = [
    Math.min(...inside.map((cell) => cell.leftMm)),
    Math.min(...inside.map((cell) => cell.topMm)),
  ];
  const side = (of: readonly [number, number]): number =>
    (of[1] - of[0] + 1) * (LARGEST_PATCH_MM + GAP_MM) - GAP_MM;
  const area = pixelsOf({ leftMm, topMm, widthMm: side(block.columns), heightMm: side(block.rows) }, pitch);
  return { ...area, top: area.top + (area.top % 2) };
}

/** References every so many columns and rows, and along the left side, where the photo leaves no other place. */
const REFERENCE_STEP = { columns: 3, rows: 2 } as const;

/** Bare and solid in turn, as on a chessboard; undefined where the wedge goes. */
function referenceAt({ column, row }: Cell): "bare" | "solid" | undefined {
  const isPlace = column === 0 || column % REFERENCE_STEP.columns === 1;
  if (!isPlace || row % REFERENCE_STEP.rows !== 1) return undefined;
  const place = Math.ceil(column / REFERENCE_STEP.columns) + (row - 1) / REFERENCE_STEP.rows;
  return place % 2 === 0 ? "solid" : "bare";
}

/** The wedge runs to the right in one row and back in the next, so neighbours are neighbouring tones, and repeats lie apart. */
function placed(cells: readonly Cell[], { pitch }: CardGrid): CheckPatch[] {
  const size = {
    columns: Math.floor(LARGEST_PATCH_MM / pitch.alongMm + 1e-9),
    rows: Math.floor(LARGEST_PATCH_MM / pitch.acrossMm + 1e-9),
  };
  const repeats = new Map<CheckPatch["shows"], number>();
  let next = 0;
  return inRows(cells).map((cell) => {
    const shows = referenceAt(cell) ?? (next++ % CHECK_STEPS) + 1;
    const repeat = (repeats.get(shows) ?? 0) + 1;
    repeats.set(shows, repeat);
    const left = Math.round(cell.leftMm / pitch.alongMm);
    const top = 2 * Math.round(cell.topMm / pitch.acrossMm / 2);
    return { id: cellName(cell), shows, repeat, area: { left, top, ...size } };
  });
}

const inRows = (cells: readonly Cell[]): Cell[] =>
  [...cells].sort((a, b) => a.row - b.row || (a.row % 2 === 0 ? 1 : -1) * (a.column - b.column));
