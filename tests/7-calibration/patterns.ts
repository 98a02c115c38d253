import type { PatternTile } from "../../src/core/pattern-tile.js";

/** A pattern of the tests' card. */
export interface NamedTile {
  readonly id: string;
  readonly tile: PatternTile;
}

const tile = (columns: number, rows: number, burns: (x: number, y: number) => boolean): PatternTile => ({
  columns,
  rows,
  codes: Uint8Array.from({ length: columns * rows }, (_, i) =>
    burns(i % columns, Math.floor(i / columns)) ? 1 : 0,
  ),
});

/** `on` lines of `of`. */
export const lines = (on: number, of: number): NamedTile => ({
  id: `lines ${on}/${of}`,
  tile: tile(1, of, (_, y) => y < on),
});

/** Bursts of `on` pixels and gaps of the rest, on every line. */
export const bursts = (on: number, of: number): NamedTile => ({
  id: `bursts ${on}/${of}`,
  tile: tile(of, 1, (x) => x < on),
});

/** The same on every other line. */
export const dashes = (on: number, of: number): NamedTile => ({
  id: `dashes ${on}/${of}`,
  tile: tile(of, 2, (x, y) => y === 0 && x < on),
});

/** Squares of `px` pixels as on a chessboard. */
export const bricks = (px: number): NamedTile => ({
  id: `bricks ${px}`,
  tile: tile(2 * px, 2 * px, (x, y) => x < px === y < px),
});

/** Squares of `px` pixels, one in each square of `of`. */
export const dots = (px: number, of: number): NamedTile => ({
  id: `dots ${px}/${of}`,
  tile: tile(of, of, (x, y) => x < px && y < px),
});

export const holes = (px: number, of: number): NamedTile => ({
  id: `holes ${px}/${of}`,
  tile: tile(of, of, (x, y) => !(x < px && y < px)),
});

/** Half bursts of `of` pixels; those of odd lines are `by` pixels to the right. */
export const vernier = (by: number, of: number): NamedTile => ({
  id: `vernier ${by}/${of}`,
  tile: tile(of, 2, (x, y) => (x + of - (y === 1 ? by : 0)) % of < of / 2),
});

export const cardPatterns: readonly NamedTile[] = [
  { id: "bare", tile: tile(1, 1, () => false) },
  { id: "solid", tile: tile(1, 1, () => true) },
  ...[
    [1, 2],
    [1, 3],
    [2, 3],
    [1, 4],
    [3, 4],
    [2, 4],
    [4, 5],
    [5, 6],
    [1, 6],
    [3, 6],
    [1, 8],
    [2, 8],
    [4, 8],
    [6, 8],
    [1, 12],
    [3, 12],
    [6, 12],
    [10, 12],
  ].map(([on, of]) => lines(on, of)),
  ...[
    [1, 2],
    [2, 3],
    [3, 4],
    [2, 4],
    [3, 6],
    [4, 8],
    [2, 8],
    [6, 8],
    [6, 12],
    [3, 12],
    [10, 12],
    [8, 16],
    [1, 3],
    [1, 4],
  ].map(([on, of]) => bursts(on, of)),
  ...[
    [1, 2],
    [2, 4],
    [4, 8],
    [1, 3],
    [3, 4],
  ].map(([on, of]) => dashes(on, of)),
  ...[2, 3, 4, 6, 8].map(bricks),
  ...[
    [1, 3],
    [1, 4],
    [2, 4],
    [2, 6],
    [3, 6],
    [4, 8],
  ].map(([px, of]) => dots(px, of)),
  ...[
    [1, 3],
    [2, 4],
    [2, 6],
    [4, 8],
    [3, 12],
  ].map(([px, of]) => holes(px, of)),
  ...[
    [1, 4],
    [3, 4],
    [1, 6],
    [5, 6],
    [0, 8],
    [2, 8],
    [6, 8],
    [3, 12],
    [9, 12],
    [4, 16],
    [12, 16],
    [6, 24],
    [18, 24],
  ].map(([by, of]) => vernier(by, of)),
];
