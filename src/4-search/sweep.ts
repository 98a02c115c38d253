import { MOVES, STAYS } from "./search-model.js";
import { NONE, type TileSearch } from "./tile-search.js";

/** Side of the blocks that sleep and wake. */
export const BLOCK_PX = 8;

/** A change must lower J by more than rounding errors. */
const LEAST_GAIN = -1e-9;

/** What a sweep did. */
export interface Sweep {
  /** Changes that were kept. */
  readonly changes: number;
  /** Changes that were tried. */
  readonly trials: number;
  /** Sum of the changes of J. */
  readonly gain: number;
}

/** Blocks of a tile that are looked at: [block rows × block columns], 1 if awake. */
export interface Blocks {
  readonly columns: number;
  readonly rows: number;
  readonly awake: Uint8Array;
}

export const blocksOf = (columns: number, rows: number): Omit<Blocks, "awake"> => ({
  columns: Math.ceil(columns / BLOCK_PX),
  rows: Math.ceil(rows / BLOCK_PX),
});

/** The eight neighbours, from the top left one on. */
const NEIGHBOURS = [
  [-1, -1],
  [0, -1],
  [1, -1],
  [-1, 0],
  [1, 0],
  [-1, 1],
  [0, 1],
  [1, 1],
] as const;

/**
 * Visits each pixel of a tile that may change, and keeps the best of its changes if that lowers J: one level up or down, or the same
 * together with the opposite change of a neighbour.
 *
 * @param blocks only pixels of blocks that are awake are visited
 * @param exactPx see `TileSearch.accept`
 * @returns also the blocks that should be awake next time
 */
export function sweepTile(
  search: TileSearch,
  levels: number,
  blocks: Blocks,
  exactPx: number,
): Sweep & { readonly next: Uint8Array } {
  const { columns, rows, codes, moves } = search.tile;
  const next = new Uint8Array(blocks.awake.length);
  const sums = { changes: 0, trials: 0, gain: 0 };
  for (let y = 0; y < rows; y++) {
    const blockRow = Math.floor(y / BLOCK_PX) * blocks.columns;
    for (let x = 0; x < columns; x++) {
      const at = y * columns + x;
      if (moves[at] === STAYS || blocks.awake[blockRow + Math.floor(x / BLOCK_PX)] === 0) continue;
      let [best, bestStep, bestX, bestY] = [LEAST_GAIN, 0, NONE, NONE];
      for (const step of [1, -1]) {
        const level = codes[at] + step;
        if (level < 0 || level >= levels) continue;
        if (moves[at] === MOVES) {
          const gain = search.gain(x, y, step);
          sums.trials++;
          if (gain < best) [best, bestStep, bestX, bestY] = [gain, step, NONE, NONE];
        }
        for (const [right, down] of NEIGHBOURS) {
          const [otherX, otherY] = [x + right, y + down];
          if (otherX < 0 || otherY < 0 || otherX >= columns || otherY >= rows) continue;
          const other = otherY * columns + otherX;
          const otherLevel = codes[other] - step;
          if (moves[other] === STAYS || otherLevel < 0 || otherLevel >= levels) continue;
          const gain = search.gain(x, y, step, otherX, otherY);
          sums.trials++;
          if (gain < best) [best, bestStep, bestX, bestY] = [gain, step, otherX, otherY];
        }
      }
      if (bestStep === 0) continue;
      search.accept(exactPx, x, y, bestStep, bestX, bestY);
      sums.changes++;
      sums.gain += best;
      wake(blocks, next, x, y);
    }
  }
  return { ...sums, next };
}

/** The block of a change and its neighbours: what is not yet visited in this sweep, and all of them in the next. */
function wake(blocks: Blocks, next: Uint8Array, x: number, y: number): void {
  const [blockX, blockY] = [Math.floor(x / BLOCK_PX), Math.floor(y / BLOCK_PX)];
  for (let v = Math.max(0, blockY - 1); v <= Math.min(blocks.rows - 1, blockY + 1); v++) {
    for (let u = Math.max(0, blockX - 1); u <= Math.min(blocks.columns - 1, blockX + 1); u++) {
      blocks.awake[v * blocks.columns + u] = 1;
      next[v * blocks.columns + u] = 1;
    }
  }
}
