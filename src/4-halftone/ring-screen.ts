import { modulo } from "../core/modulo.js";
import { MM_PER_INCH } from "../core/units.js";
import { tileColumnsOf } from "../core/wrap.js";
import { type ClusteredScreen, clusteredScreen } from "./clustered-dot.js";
import {
  type Cell,
  cross,
  greatestCommonDivisor,
  type LatticePlace,
  latticePlace,
  type Step,
  tileInOrder,
} from "./lattice.js";
import type { HalftoneSettings } from "./method.js";
import type { ThresholdTile } from "./ordered.js";

/** The screen of a job. On a ring it closes, so its ruling and angle are slightly different. */
export const screenFor = (settings: HalftoneSettings): Screen =>
  settings.ringColumns === 0 ? clusteredScreen(settings) : ringScreen(settings);

export type Screen = Pick<ClusteredScreen, "tile" | "linesPerInch" | "angleDeg">;

/** Minimum of cells along a tile, and of its rows: rounding to whole cells then changes ruling and angle by about 1 %. */
const CELLS_ALONG = 32;
const MIN_TILE_ROWS = 48;

/** Below this many pixels a cell is no dot. The flat screen then disperses single pixels. */
const MIN_CELL_PX = 2;

/** Below this many pixels, unequal cells differ so much in shape that they cause moiré with the grid. */
const MIN_UNEQUAL_CELL_PX = 16;

/** Largest change of the side of a small cell, in pixels, to make it close round the ring. Rounding alone takes ½. */
const MAX_MOVED_PX = 1;

/**
 * A clustered-dot screen that fits round a ring a whole number of times.
 *
 * Small cells are whole pixels, as in a flat screen: the nearest cells that close. Larger cells keep nearly the wanted size: a
 * tile of whole pixels holds a whole number of them, and every pixel belongs to the cell with the nearest centre (supercells:
 * H. R. Kang, Digital Color Halftoning, SPIE Press, 1999, from memory). Such cells differ by a pixel. So thresholds are spread
 * within each cell: every dot burns its share, and no moiré between cells and pixels appears as tone.
 */
function ringScreen(settings: HalftoneSettings): Screen {
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

/** `vector` in whole steps p, q of the lattice: about p·a + q·b. */
const wholeSteps = (vector: Step, a: Step, b: Step): Step => [
  Math.round(cross(vector, b) / cross(a, b)),
  Math.round(cross(a, vector) / cross(a, b)),
];

/** The cell of whole pixels that closes round the ring and is nearest to the wanted one, if one is near enough. */
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

/** Pixels along a row after which a lattice of whole steps repeats. */
const periodAlong = ([a, b]: Cell): number => cross(a, b) / greatestCommonDivisor(a[1], b[1]);

function tileColumns(ringColumns: number, minColumns: number, wholeCell: Cell | undefined): number {
  const columns = tileColumnsOf(ringColumns, minColumns);
  let times = 1;
  while (wholeCell && (times * columns) % periodAlong(wholeCell) !== 0) times *= 2;
  return times * columns;
}

/** The cell whose `round` steps lead to `along`, and whose `down` steps lead to `below`. */
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

/** Powers of 1/ρ, ρ³ = ρ + 1, spread the turns most evenly over the plane (M. Roberts, 2018). */
const PLASTIC = 1.324717957244746;

/**
 * The turn, 0..1, in which the dot of cell (i, j) grows by a pixel. The step from turn to turn is close to that of the plastic
 * number, but closes exactly round the tile that `round` and `down` span: both lead to a multiple of their cross product.
 */
function turnsOf([p, q]: Step, [r, s]: Step): (i: number, j: number) => number {
  const cells = Math.abs(p * s - q * r);
  const t = Math.round(p / PLASTIC + q / PLASTIC ** 2);
  const u = Math.round(r / PLASTIC + s / PLASTIC ** 2);
  const stepA = t * s - u * q;
  const stepB = u * p - t * r;
  return (i, j) => modulo(i * stepA + j * stepB, cells) / cells;
}

type ScreenPixel = Pick<LatticePlace, "spot" | "angle"> & { readonly index: number };

function screenTile(
  columns: number,
  [shift, rows]: Step,
  [a, b]: Cell,
  turnOf: (i: number, j: number) => number,
): ThresholdTile {
  const area = columns * rows;
  /** Pixels of each cell, by the place of its centre on the tile. The lattice repeats with the tile. */
  const cells = new Map<number, { readonly turn: number; readonly pixels: ScreenPixel[] }>();
  for (let index = 0; index < area; index++) {
    const { i, j, spot, angle } = latticePlace(index, columns, [a, b]);
    const key = placeOnTile(i * a[0] + j * b[0], i * a[1] + j * b[1], columns, rows, shift);
    let cell = cells.get(key);
    if (!cell) {
      cell = { turn: turnOf(i, j), pixels: [] };
      cells.set(key, cell);
    }
    cell.pixels.push({ index, spot, angle });
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
  return tileInOrder(columns, rows, shift, grown);
}

/** A key for a point: its place on the tile, to a sixteenth of a pixel. */
function placeOnTile(x: number, y: number, columns: number, rows: number, shift: number): number {
  const tilesDown = Math.floor((y + 1 / 32) / rows);
  const down = Math.round(16 * (y - tilesDown * rows));
  const along = modulo(Math.round(16 * (x - tilesDown * shift)), 16 * columns);
  return down * 16 * columns + along;
}
