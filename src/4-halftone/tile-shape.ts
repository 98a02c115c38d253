import type { Pitch } from "../core/plane.js";
import { type Cell, cellFrom, cross, type Step, stepsTo, vectorOf } from "./lattice.js";

/** The rectangle of whole pixels after which a screen repeats, and its cell. Each repeat down moves `shift` columns. */
export interface TileShape {
  readonly columns: number;
  readonly rows: number;
  readonly shift: number;
  /** Nearly the wanted cell: the tile holds a whole number of them. */
  readonly cell: Cell;
}

/**
 * Largest error of the length of either side of a cell, as a share, and of its angle. No tile of moderate size may be so near: round
 * a small ring, within two degrees of the scan lines, or if a cell has thousands of pixels. Both then grow by half until one fits.
 */
const TOLERANCE = { length: 0.005, radians: (0.5 * Math.PI) / 180 } as const;
const WIDER = 1.5;
const MAX_WIDENING = 100;

/** Smallest side of a tile, and its fewest pixels: tones enough that their steps hide below 0.1 L*. */
const MIN_SIDE_PX = 24;
const MIN_AREA_PX = 1000;

/**
 * Most pixels of a tile whose cells are small. Larger cells grow in larger blocks (`growDots`), so their tiles may be larger in
 * proportion to the period. Growing 4096 pixels takes 30 ms. Round a ring, where few widths close, tiles may be half as large again.
 */
const MAX_AREA_PX = 4096;
const SMALL_PERIOD_PX = 4;
const LARGER_ON_RING = 1.5;

/** Longest vector of a tile in sides of a cell. */
const MAX_STEPS = 60;

/** A vector of the lattice, and the whole steps that lead to it. */
interface LatticePoint {
  readonly steps: Step;
  readonly at: Step;
}

interface Wanted {
  readonly asked: Cell;
  readonly pitch: Pitch;
  /** Points of the asked lattice below the origin, by rising rows. */
  readonly below: readonly LatticePoint[];
  /** Multiple of the tolerance. */
  readonly widening: number;
  readonly maxPx: number;
}

/** The smallest tile whose cell is near enough to `asked`. Undefined if a cell is larger than a ring. */
export function fitTile(asked: Cell, pitch: Pitch, ringColumns: number): TileShape | undefined {
  const periods = Math.max(1, Math.floor(Math.sqrt(cross(...asked)) / SMALL_PERIOD_PX));
  const maxPx = MAX_AREA_PX * periods * (ringColumns === 0 ? 1 : LARGER_ON_RING);
  const points = latticePoints(asked, maxPx / MIN_SIDE_PX);
  const below = points.filter(({ at }) => at[1] > 0.5).sort((p, q) => p.at[1] - q.at[1]);
  const widths = ringColumns === 0 ? points.map(({ at }) => Math.round(at[0])) : divisors(ringColumns);
  const minColumns = ringColumns === 0 ? MIN_SIDE_PX : Math.min(MIN_SIDE_PX, ringColumns);
  const columnCounts = [...new Set(widths)].filter((width) => width >= minColumns).sort((p, q) => p - q);
  for (let widening = 1; widening < MAX_WIDENING; widening *= WIDER) {
    const fitting = smallestTile({ asked, pitch, below, widening, maxPx }, columnCounts);
    if (fitting) return fitting;
  }
  return undefined;
}

/** The points to the right of the origin, up to `maxPx` along and across. */
function latticePoints(cell: Cell, maxPx: number): LatticePoint[] {
  const points: LatticePoint[] = [];
  for (let p = -MAX_STEPS; p <= MAX_STEPS; p++) {
    for (let q = -MAX_STEPS; q <= MAX_STEPS; q++) {
      const at = vectorOf([p, q], cell);
      if (at[0] >= -0.5 && at[0] <= maxPx && Math.abs(at[1]) <= maxPx) points.push({ steps: [p, q], at });
    }
  }
  return points;
}

/** The widths of tiles that fit round a ring a whole number of times. */
const divisors = (ringColumns: number): number[] =>
  Array.from({ length: ringColumns }, (_, k) => k + 1).filter((columns) => ringColumns % columns === 0);

function smallestTile(wanted: Wanted, columnCounts: readonly number[]): TileShape | undefined {
  const { asked, pitch, below, widening, maxPx } = wanted;
  let best: TileShape | undefined;
  let bestPx = maxPx + 1;
  for (const columns of columnCounts) {
    const [p, q] = stepsTo([columns, 0], asked);
    const round: Step = [Math.round(p), Math.round(q)];
    const [x, y] = vectorOf(round, asked);
    const missed = Math.hypot((x - columns) * pitch.alongMm, y * pitch.acrossMm);
    // Sides at right angles: if both are near enough, a vector along the rows moves by no more than twice as much.
    if (missed > 2 * TOLERANCE.radians * widening * columns * pitch.alongMm) continue;
    const minRows = Math.max(MIN_SIDE_PX, Math.ceil(MIN_AREA_PX / columns));
    for (const { steps, at } of below) {
      const rows = Math.round(at[1]);
      if (columns * rows >= bestPx) break;
      const shift = Math.round(at[0]) + 0; // never −0
      if (rows < minRows || shift < 0 || shift >= columns || cross(round, steps) === 0) continue;
      const cell = cellFrom(
        [
          [columns, 0],
          [shift, rows],
        ],
        [round, steps],
      );
      if (errorOf(cell, wanted) > widening) continue;
      best = { columns, rows, shift, cell };
      bestPx = columns * rows;
    }
  }
  return best;
}

/** Largest error of a side, in multiples of the tolerance. */
function errorOf(cell: Cell, { asked, pitch: { alongMm, acrossMm } }: Wanted): number {
  const errors = asked.map(([x, y], k) => {
    const wanted: Step = [x * alongMm, y * acrossMm];
    const got: Step = [cell[k][0] * alongMm, cell[k][1] * acrossMm];
    const squared = wanted[0] ** 2 + wanted[1] ** 2;
    const stretch = Math.hypot(...got) / Math.sqrt(squared) - 1;
    const turn = cross(wanted, got) / squared;
    return Math.max(Math.abs(stretch) / TOLERANCE.length, Math.abs(turn) / TOLERANCE.radians);
  });
  return Math.max(...errors);
}
