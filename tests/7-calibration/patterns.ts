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

/** Bursts of `on` pixels of `of` on every line; those of odd lines are `by` pixels to the right. */
export const shifted = (on: number, by: number, of: number): NamedTile => ({
  id: `shifted ${on}/${of} by ${by}`,
  tile: tile(of, 2, (x, y) => (x + of - (y === 1 ? by : 0)) % of < on),
});

/** Those that tell most, chosen by `bench/calibration-patterns.ts --choose 64`, and some even tones. */
export const cardPatterns: readonly NamedTile[] = [
  { id: "bare", tile: tile(1, 1, () => false) },
  { id: "solid", tile: tile(1, 1, () => true) },
  ...[3, 4, 5, 6, 7, 9].map((of) => lines(1, of)),
  ...[lines(1, 2), lines(2, 4), lines(3, 6), lines(4, 8), lines(2, 5), lines(3, 7)],
  ...[lines(3, 5), lines(2, 3), lines(3, 4), lines(6, 8), lines(5, 6)],
  ...[bursts(1, 2), bursts(3, 6), bursts(8, 16), bursts(1, 4), bursts(1, 5), bursts(2, 5), bursts(3, 5)],
  ...[bursts(2, 7), bursts(3, 8), bursts(3, 9), bursts(4, 9), bursts(5, 11)],
  ...[bursts(2, 3), bursts(4, 6), bursts(3, 4), bursts(5, 6)],
  ...[dashes(1, 2), dashes(1, 3), dashes(4, 8)],
  ...[bricks(3), bricks(6), dots(1, 3), dots(1, 4), dots(2, 6), holes(1, 3), holes(2, 6)],
  ...[shifted(3, 2, 6), shifted(3, 3, 6), shifted(3, 5, 6), shifted(4, 1, 8), shifted(5, 8, 10)],
  // Long periods, in which no other line shift looks the same.
  ...[shifted(8, 4, 16), shifted(8, 12, 16), shifted(12, 6, 24), shifted(12, 18, 24)],
  ...[shifted(6, 3, 12), shifted(6, 9, 12), shifted(3, 3, 7), shifted(3, 2, 5), shifted(3, 4, 5)],
  ...[2, 3, 4, 6, 7].map((by) => shifted(2, by, 8)),
  ...[shifted(2, 5, 6), shifted(4, 2, 5), shifted(4, 3, 5), shifted(2, 10, 12)],
  ...[shifted(1, 1, 3), shifted(1, 4, 5), shifted(1, 3, 6)],
];

const range = (from: number, to: number, by = 1): number[] =>
  Array.from({ length: Math.floor((to - from) / by) + 1 }, (_, n) => from + n * by);

/** As `shifted`, with `bare` lines after each pair of lines. */
export const pairs = (on: number, by: number, of: number, bare: number): NamedTile => ({
  id: `pairs ${on}/${of} by ${by}, ${bare} bare`,
  tile: tile(of, 2 + bare, (x, y) => y < 2 && (x + of - (y === 1 ? by : 0)) % of < on),
});

/** More patterns that a card may show. */
export const candidatePatterns: readonly NamedTile[] = [
  ...range(3, 12).flatMap((of) => range(0, of - 1).map((by) => shifted(Math.floor(of / 2), by, of))),
  ...[5, 6, 8, 12].flatMap((of) =>
    [1, 2, of - 2, of - 1].flatMap((on) => range(0, of - 1).map((by) => shifted(on, by, of))),
  ),
  ...[16, 24, 32].flatMap((of) => [1, 3, 5, 7].map((eighth) => shifted(of / 2, (of / 8) * eighth, of))),
  ...[4, 6, 8, 12].flatMap((of) =>
    [2, 4].flatMap((bare) => range(0, of - 1).map((by) => pairs(of / 2, by, of, bare))),
  ),
  ...range(2, 12).flatMap((of) => [1, 2, 3].map((on) => bursts(on, of))),
  ...range(3, 12).flatMap((of) => [1, 2, 3].map((on) => lines(on, of))),
  ...range(2, 8).flatMap((px) => range(px + 1, 12).map((of) => dots(px, of))),
];
