import { MM_PER_INCH } from "../core/units.js";
import { tileColumnsOf } from "../core/wrap.js";
import { type ClusteredScreen, clusteredScreen } from "./clustered-dot.js";
import type { HalftoneSettings } from "./method.js";
import type { ThresholdTile } from "./ordered.js";

/** The screen that a job halftones with: a ring's closes, and so is of a slightly other ruling and angle. */
export const screenFor = (settings: HalftoneSettings): Screen =>
  settings.ringColumns === 0 ? clusteredScreen(settings) : ringScreen(settings);

export type Screen = Pick<ClusteredScreen, "tile" | "linesPerInch" | "angleDeg">;

/** Minimum of cells along a tile, and of its rows: rounding to whole cells then changes ruling and angle by 1 % or so. */
const CELLS_ALONG = 32;
const MIN_TILE_ROWS = 48;

/** Cells finer than this many pixels are no dots, and the flat screen disperses them. */
const MIN_CELL_PX = 2;

/** Below this many pixels the shapes of unequal cells differ so much that they visibly beat with the grid. */
const MIN_UNEQUAL_CELL_PX = 16;

/** How far a side of a small cell may be from what was asked, in pixels, for the sake of going round. Rounding alone takes ½. */
const MAX_MOVED_PX = 1;

/**
 * A clustered-dot screen that goes round a ring a whole number of times.
 *
 * Small cells are whole pixels, as in a flat screen: the nearest that go round. Larger ones keep the size that was asked for,
 * nearly: a tile of whole pixels holds a whole number of them, and every pixel belongs to the cell whose centre is nearest on
 * the lattice (supercells: H. R. Kang, Digital Color Halftoning, SPIE Press, 1999, from memory). Such cells differ by a pixel,
 * so thresholds are shared out within each: every dot burns its share, and no beat between cells and pixels shows as tone.
 */
export function ringScreen(settings: HalftoneSettings): Screen {
  const { pitch, ringColumns } = settings;
  const periodMm = MM_PER_INCH / settings.screenLinesPerInch;
  const angle = (settings.screenAngleDeg * Math.PI) / 180;
  const [cosine, sine] = [periodMm * Math.cos(angle), periodMm * Math.sin(angle)];
  const asked: Cell = [
    [cosine / pitch.alongMm, sine / pitch.acrossMm],
    [-sine / pitch.alongMm, cosine / pitch.acrossMm],
  ];
  if (cross(...asked) < MIN_CELL_PX) return clusteredScreen(settings);
  const wholeCell = cross(...asked) < MIN_UNEQUAL_CELL_PX ? closingCell(asked, ringColumns) : undefined;
  const [a, b] = wholeCell ?? asked;

  const columns = tileColumns(ringColumns, CELLS_ALONG * Math.sqrt(cross(a, b)), wholeCell);
  const round = wholeSteps([columns, 0], a, b);
  const down = wholeSteps([0, Math.max(MIN_TILE_ROWS, 4 * Math.sqrt(cross(a, b)))], a, b);
  const along: Step = [columns, 0];
  const below: Step = [
    Math.round(down[0] * a[0] + down[1] * b[0]),
    Math.round(down[0] * a[1] + down[1] * b[1]),
  ];
  const cell = cellOf(along, below, round, down);
  return {
    tile: screenTile(columns, below, cell, turnsOf(round, down)),
    linesPerInch: MM_PER_INCH / Math.sqrt(cross(...cell) * pitch.alongMm * pitch.acrossMm),
    angleDeg: (Math.atan2(cell[0][1] * pitch.acrossMm, cell[0][0] * pitch.alongMm) * 180) / Math.PI,
  };
}

type Step = readonly [x: number, y: number];
type Cell = readonly [a: Step, b: Step];

const cross = (a: Step, b: Step): number => a[0] * b[1] - a[1] * b[0];

/** `vector` as steps of the lattice, p·a + q·b, rounded to whole ones. */
const wholeSteps = (vector: Step, a: Step, b: Step): Step => [
  Math.round(cross(vector, b) / cross(a, b)),
  Math.round(cross(a, vector) / cross(a, b)),
];

/** The cell of whole pixels nearest to the one asked for that goes round, if there is one near. */
function closingCell([a, b]: Cell, ringColumns: number): Cell | undefined {
  let best: Cell | undefined;
  let bestMoved = Number.POSITIVE_INFINITY;
  for (const wholeA of wholeNear(a)) {
    for (const wholeB of wholeNear(b)) {
      const moved = Math.hypot(wholeA[0] - a[0], wholeA[1] - a[1], wholeB[0] - b[0], wholeB[1] - b[1]);
      const goesRound = ringColumns % periodAlong([wholeA, wholeB]) === 0;
      if (cross(wholeA, wholeB) < MIN_CELL_PX || !goesRound || moved >= bestMoved) continue;
      best = [wholeA, wholeB];
      bestMoved = moved;
    }
  }
  return best;
}

function wholeNear([x, y]: Step): Step[] {
  const near = (value: number): number[] =>
    [-2, -1, 0, 1, 2]
      .map((by) => Math.round(value) + by)
      .filter((whole) => Math.abs(whole - value) <= MAX_MOVED_PX);
  return near(x).flatMap((wholeX) => near(y).map((wholeY): Step => [wholeX, wholeY]));
}

/** Pixels along a row after which a lattice of whole steps repeats itself. */
const periodAlong = ([a, b]: Cell): number => cross(a, b) / greatestCommonDivisor(a[1], b[1]);

function tileColumns(ringColumns: number, minColumns: number, wholeCell: Cell | undefined): number {
  const columns = tileColumnsOf(ringColumns, minColumns);
  let times = 1;
  while (wholeCell && (times * columns) % periodAlong(wholeCell) !== 0) times *= 2;
  return times * columns;
}

/** The cell of which `round` steps lead to `along`, and `down` steps to `below`. */
function cellOf(along: Step, below: Step, round: Step, down: Step): Cell {
  const determinant = cross(round, down);
  const solve = (k: 0 | 1): Step => [
    (along[k] * down[1] - below[k] * round[1]) / determinant,
    (below[k] * round[0] - along[k] * down[0]) / determinant,
  ];
  const [x, y] = [solve(0), solve(1)];
  return [
    [x[0], y[0]],
    [x[1], y[1]],
  ];
}

/** Steps by which turns are spread most evenly over the plane: powers of 1/ρ, ρ³ = ρ + 1 (M. Roberts, 2018). */
const PLASTIC = 1.324717957244746;

/**
 * When, 0..1, the dot of cell (i, j) takes its turn to grow by a pixel. Turns go on by nearly the plastic number's steps, and
 * close exactly round the tile, which `round` and `down` span: both lead to a whole number of times n = their cross product.
 */
function turnsOf([p, q]: Step, [r, s]: Step): (i: number, j: number) => number {
  const cells = Math.abs(p * s - q * r);
  const t = Math.round(p / PLASTIC + q / PLASTIC ** 2);
  const u = Math.round(r / PLASTIC + s / PLASTIC ** 2);
  const stepA = t * s - u * q;
  const stepB = u * p - t * r;
  return (i, j) => modulo(i * stepA + j * stepB, cells) / cells;
}

interface ScreenPixel {
  readonly index: number;
  readonly spot: number;
  readonly angle: number;
}

function screenTile(
  columns: number,
  [shift, rows]: Step,
  [a, b]: Cell,
  turnOf: (i: number, j: number) => number,
): ThresholdTile {
  const area = columns * rows;
  const determinant = cross(a, b);
  /** Pixels of each cell, by where its centre lies on the tile, which is where the lattice repeats itself. */
  const cells = new Map<number, { readonly turn: number; readonly pixels: ScreenPixel[] }>();
  for (let index = 0; index < area; index++) {
    const x = (index % columns) + 0.5;
    const y = Math.floor(index / columns) + 0.5;
    const alongA = (x * b[1] - y * b[0]) / determinant;
    const alongB = (y * a[0] - x * a[1]) / determinant;
    const [i, j] = [Math.round(alongA), Math.round(alongB)];
    const [u, v] = [rounded(alongA - i), rounded(alongB - j)];
    const key = placeOnTile(i * a[0] + j * b[0], i * a[1] + j * b[1], columns, rows, shift);
    let cell = cells.get(key);
    if (!cell) {
      cell = { turn: turnOf(i, j), pixels: [] };
      cells.set(key, cell);
    }
    const spot = rounded(Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v));
    cell.pixels.push({ index, spot, angle: rounded(Math.atan2(v, u)) });
  }
  const grown: { readonly index: number; readonly share: number }[] = [];
  for (const { turn, pixels } of cells.values()) {
    pixels.sort((p, q) => q.spot - p.spot || p.angle - q.angle || p.index - q.index);
    pixels.forEach(({ index }, order) => {
      const share = (order + turn) / pixels.length;
      grown.push({ index, share });
    });
  }
  grown.sort((p, q) => p.share - q.share || p.index - q.index);
  const ranks = new Uint32Array(area);
  grown.forEach(({ index }, rank) => {
    ranks[index] = rank;
  });
  return { columns, rows, shift: modulo(shift, columns), ranks, rankCount: area };
}

/** Names a point by its place on the tile, to a sixteenth of a pixel. */
function placeOnTile(x: number, y: number, columns: number, rows: number, shift: number): number {
  const tilesDown = Math.floor((y + 1 / 32) / rows);
  const down = Math.round(16 * (y - tilesDown * rows));
  const along = modulo(Math.round(16 * (x - tilesDown * shift)), 16 * columns);
  return down * 16 * columns + along;
}

/** To nine decimals, and never −0, whose angle would be that of the other side. */
const rounded = (value: number): number => Math.round(value * 1e9) / 1e9 + 0;

const modulo = (value: number, period: number): number => ((value % period) + period) % period;

function greatestCommonDivisor(p: number, q: number): number {
  return q === 0 ? Math.abs(p) : greatestCommonDivisor(q, p % q);
}
