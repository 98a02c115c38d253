import { CORNER_MM, FRAME_MM } from "./marks.js";

/** Bare strip between two patches, and between patches and frame. Two spots of 0.25 mm. */
export const GAP_MM = 0.5;

/** Side of the largest patch. */
export const LARGEST_PATCH_MM = 3;
/** Sides of a patch, the largest first. Below the last one too little is left inside the edges that spot and camera blur. */
const PATCH_SIDES_MM = [LARGEST_PATCH_MM, 2.9, 2.8, 2.7, 2.6, 2.5, 2.4, 2.2, 2, 1.8] as const;

/** A square place for one patch. */
export interface Cell {
  readonly column: number;
  readonly row: number;
  readonly leftMm: number;
  readonly topMm: number;
}

/** The places of a card, and the part of it that the code gets. */
export interface Cells {
  readonly patchMm: number;
  /** Column by column, from the left. */
  readonly cells: readonly Cell[];
  readonly codeArea: { readonly leftMm: number; readonly topMm: number; readonly sideMm: number };
}

interface Size {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** What a card needs. */
export interface CellNeeds {
  /** Least side of the code with its bare border. */
  readonly codeMm: number;
  /** Least side of a patch. */
  readonly patchMm: number;
  /** Number of places that are wanted. */
  readonly enough: number;
}

/**
 * Places for the largest patches of which there are enough, or for the smallest ones. Returns undefined if the card has no room for
 * the code.
 */
export function layCells(size: Size, { codeMm, patchMm: leastMm, enough }: CellNeeds): Cells | undefined {
  let laid: Cells | undefined;
  for (const patchMm of PATCH_SIDES_MM.filter((each) => each > leastMm - 1e-9)) {
    laid = cellsOf(size, codeMm, patchMm) ?? laid;
    if (laid && laid.cells.length >= enough) return laid;
  }
  return laid;
}

function cellsOf({ widthMm, heightMm }: Size, codeMm: number, patchMm: number): Cells | undefined {
  const cellMm = patchMm + GAP_MM;
  const across = axisOf(widthMm, cellMm);
  const down = axisOf(heightMm, cellMm);
  // The gap on both sides of the block is bare too.
  const block = Math.ceil((codeMm - GAP_MM) / cellMm - 1e-9);
  if (block > across.count || block > down.count) return undefined;
  const first = { column: Math.floor((across.count - block) / 2), row: Math.floor((down.count - block) / 2) };
  const cells: Cell[] = [];
  for (let column = 0; column < across.count; column++) {
    for (let row = 0; row < down.count; row++) {
      const cell = { column, row, leftMm: across.at(column), topMm: down.at(row) };
      if (within(column - first.column, block) && within(row - first.row, block)) continue;
      if (meetsCorner(cell.leftMm, patchMm, widthMm) && meetsCorner(cell.topMm, patchMm, heightMm)) continue;
      cells.push(cell);
    }
  }
  const codeArea = {
    leftMm: across.at(first.column) - GAP_MM,
    topMm: down.at(first.row) - GAP_MM,
    sideMm: block * cellMm + GAP_MM,
  };
  return { patchMm, cells, codeArea };
}

/** As many cells as fit between the sides of the frame, in the middle of them. */
function axisOf(lengthMm: number, cellMm: number) {
  const roomMm = lengthMm - 2 * (FRAME_MM + GAP_MM) + GAP_MM;
  const count = Math.max(0, Math.floor(roomMm / cellMm + 1e-9));
  const startMm = FRAME_MM + GAP_MM + (roomMm - count * cellMm) / 2;
  return { count, at: (k: number): number => startMm + k * cellMm };
}

const within = (offset: number, count: number): boolean => offset >= 0 && offset < count;

/** Whether a patch comes too near to a corner's square, along one axis. */
const meetsCorner = (fromMm: number, patchMm: number, lengthMm: number): boolean =>
  fromMm < CORNER_MM + GAP_MM - 1e-9 || fromMm + patchMm > lengthMm - CORNER_MM - GAP_MM + 1e-9;
