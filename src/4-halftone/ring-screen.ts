import { MM_PER_INCH } from "../core/units.js";
import { tileColumnsOf } from "../core/wrap.js";
import { bayerTile } from "./bayer.js";
import { type ClusteredScreen, clusteredScreen } from "./clustered-dot.js";
import type { HalftoneSettings } from "./method.js";
import type { ThresholdTile } from "./ordered.js";

/** The screen that a job halftones with: a ring's closes, and so is of a slightly other ruling and angle. */
export const screenFor = (settings: HalftoneSettings): Screen =>
  settings.ringColumns === 0 ? clusteredScreen(settings) : ringScreen(settings);

export type Screen = Pick<ClusteredScreen, "tile" | "linesPerInch" | "angleDeg">;

/** Cells that a tile is to hold in either direction, so that rounding to whole cells changes ruling and angle by 1 % or so. */
const CELLS_ALONG = 32;
const LEAST_TILE_ROWS = 48;

/** Cells finer than this many pixels are no dots, and the flat screen disperses them. */
const LEAST_CELL_PX = 2;

/** Side of the square of cells whose dots grow in turn, and the turns. */
const TURN_SIDE = 16;

/**
 * A clustered-dot screen that goes round a ring a whole number of times. Cells of whole pixels seldom do. So here cells keep
 * the size that was asked for, nearly: a tile of whole pixels, which goes round a whole number of times, holds a whole
 * number of them, and every pixel belongs to the cell whose centre is nearest on the lattice (supercells: H. R. Kang, Digital
 * Color Halftoning, SPIE Press, 1999, from memory). Cells then differ by a pixel; thresholds are shared out within each, so that every dot burns
 * its share and no beat between cells and pixels shows as tone. Cells take turns, in Bayer's order, as in a flat screen.
 */
export function ringScreen(settings: HalftoneSettings): Screen {
  const { pitch, ringColumns } = settings;
  const periodMm = MM_PER_INCH / settings.screenLinesPerInch;
  const angle = (settings.screenAngleDeg * Math.PI) / 180;
  const a: Step = [
    (periodMm * Math.cos(angle)) / pitch.alongMm,
    (periodMm * Math.sin(angle)) / pitch.acrossMm,
  ];
  const b: Step = [
    (-periodMm * Math.sin(angle)) / pitch.alongMm,
    (periodMm * Math.cos(angle)) / pitch.acrossMm,
  ];
  if (cross(a, b) < LEAST_CELL_PX) return clusteredScreen(settings);

  const columns = tileColumnsOf(ringColumns, CELLS_ALONG * Math.sqrt(cross(a, b)));
  const round = wholeSteps([columns, 0], a, b);
  const [rows, shift, down] = tileRows(a, b);
  const [cellA, cellB] = cellsOf([columns, 0], [shift, rows], round, down);
  return {
    tile: screenTile(columns, rows, shift, cellA, cellB),
    linesPerInch: MM_PER_INCH / Math.sqrt(cross(cellA, cellB) * pitch.alongMm * pitch.acrossMm),
    angleDeg: (Math.atan2(cellA[1] * pitch.acrossMm, cellA[0] * pitch.alongMm) * 180) / Math.PI,
  };
}

type Step = readonly [x: number, y: number];

const cross = (a: Step, b: Step): number => a[0] * b[1] - a[1] * b[0];

/** `vector` as steps of the lattice, p·a + q·b, rounded to whole ones. */
const wholeSteps = (vector: Step, a: Step, b: Step): Step => [
  Math.round(cross(vector, b) / cross(a, b)),
  Math.round(cross(a, vector) / cross(a, b)),
];

/** A vector of the lattice that leads nearly straight down, in whole pixels: rows, columns to the side, and its steps. */
function tileRows(a: Step, b: Step): readonly [rows: number, shift: number, steps: Step] {
  const steps = wholeSteps([0, Math.max(LEAST_TILE_ROWS, 4 * Math.sqrt(cross(a, b)))], a, b);
  const [p, q] = steps;
  return [Math.round(p * a[1] + q * b[1]), Math.round(p * a[0] + q * b[0]), steps];
}

/** The cell's sides where `round` steps lead to `along`, and `down` steps to `below`. */
function cellsOf(along: Step, below: Step, round: Step, down: Step): readonly [a: Step, b: Step] {
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

interface ScreenPixel {
  readonly index: number;
  readonly spot: number;
  readonly angle: number;
}

function screenTile(columns: number, rows: number, shift: number, a: Step, b: Step): ThresholdTile {
  const area = columns * rows;
  const determinant = cross(a, b);
  const turns = bayerTile(TURN_SIDE).ranks;
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
      cell = { turn: turns[modulo(i, TURN_SIDE) + TURN_SIDE * modulo(j, TURN_SIDE)], pixels: [] };
      cells.set(key, cell);
    }
    const spot = rounded(Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v));
    cell.pixels.push({ index, spot, angle: rounded(Math.atan2(v, u)) });
  }
  const grown: { readonly index: number; readonly share: number }[] = [];
  for (const { turn, pixels } of cells.values()) {
    pixels.sort((p, q) => q.spot - p.spot || p.angle - q.angle || p.index - q.index);
    pixels.forEach(({ index }, order) => {
      const share = (order + (turn + 0.5) / TURN_SIDE ** 2) / pixels.length;
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
