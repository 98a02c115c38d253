import type { Pitch } from "../core/plane.js";
import { MM_PER_INCH } from "../core/units.js";
import { bayerTile } from "./bayer.js";
import { growDots } from "./dot-growth.js";
import { type Cell, cross } from "./lattice.js";
import type { HalftoneSettings, Repeat } from "./method.js";
import type { ThresholdTile } from "./threshold-tile.js";
import { fitTile, type TileShape } from "./tile-shape.js";

/** A screen's ruling and angle on the pixel grid. */
export interface Screen {
  readonly linesPerInch: number;
  readonly angleDeg: number;
  /** True if the grid cannot show its dots: they fall apart into single pixels. */
  readonly isDispersed: boolean;
  /** After so many pixels it repeats. */
  readonly repeat: Repeat;
  /** Thresholds. They are grown at the first call of a job. */
  readonly tile: () => ThresholdTile;
}

/** Below this many pixels a cell is no dot. Single pixels are dispersed. */
const MIN_CELL_PX = 2;

/** Side of the tile of dispersed pixels. It divides every ring. */
const DISPERSED_PX = 16;

/**
 * Clustered-dot screen of a ruling and an angle, on flat work or round a ring. It repeats after a tile of whole pixels that holds
 * a whole number of cells (rational tangents in supercells: H. R. Kang, Digital Color Halftoning, SPIE Press, 1999, from
 * memory). The cells have no whole number of pixels, so period and angle are nearly free. The pitches along and across may
 * differ.
 */
export function clusteredScreen(settings: HalftoneSettings): Screen {
  const { pitch, ringColumns } = settings;
  const asked = askedCell(settings);
  const shape = cross(...asked) < MIN_CELL_PX ? undefined : fitTile(asked, pitch, ringColumns);
  return shape
    ? {
        ...rulingOf(shape.cell, pitch),
        isDispersed: false,
        repeat: shape,
        tile: () => keptTile(shape, settings.tiles),
      }
    : dispersed(pitch);
}

function askedCell({ pitch, screenLinesPerInch, screenAngleDeg }: HalftoneSettings): Cell {
  const { alongMm, acrossMm } = pitch;
  const periodMm = MM_PER_INCH / screenLinesPerInch;
  const angle = (screenAngleDeg * Math.PI) / 180;
  const [cosine, sine] = [periodMm * Math.cos(angle), periodMm * Math.sin(angle)];
  return [
    [cosine / alongMm, sine / acrossMm],
    [-sine / alongMm, cosine / acrossMm],
  ];
}

/** A tile takes tens of milliseconds, and a job needs it for its tone curve, its bitmap and its tones. */
function keptTile(shape: TileShape, tiles: HalftoneSettings["tiles"]): ThresholdTile {
  const key = JSON.stringify(shape);
  const tile = tiles?.get(key) ?? grownTile(shape);
  tiles?.set(key, tile);
  return tile;
}

function grownTile(shape: TileShape): ThresholdTile {
  const { columns, rows, shift } = shape;
  return { columns, rows, shift, ranks: growDots(shape), rankCount: columns * rows };
}

/** The grid cannot show a finer screen: every pixel is one cell. */
function dispersed(pitch: Pitch): Screen {
  const pixel: Cell = [
    [1, 0],
    [0, 1],
  ];
  const tile = bayerTile(DISPERSED_PX);
  return { ...rulingOf(pixel, pitch), isDispersed: true, repeat: tile, tile: () => tile };
}

/** The angle is the mean of both sides', as they need not be exactly at right angles. */
const rulingOf = ([a, b]: Cell, { alongMm, acrossMm }: Pitch): Pick<Screen, "linesPerInch" | "angleDeg"> => ({
  linesPerInch: MM_PER_INCH / Math.sqrt(cross(a, b) * alongMm * acrossMm),
  angleDeg: (Math.atan2(a[1] * acrossMm - b[0] * alongMm, a[0] * alongMm + b[1] * acrossMm) * 180) / Math.PI,
});
