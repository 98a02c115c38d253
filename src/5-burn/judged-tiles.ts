import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { sampleTiles } from "./sample-tiles.js";

/** A part of the picture that is judged alone, with the surroundings that affect it. */
export interface JudgedTile {
  /** Pixels that count. */
  readonly core: PixelRectangle;
  /** The core and a halo that the eye blurs into it, as far as the picture goes. */
  readonly seen: PixelRectangle;
  /**
   * Pixels whose bits add dose to `seen`. It starts at a multiple of 8 columns and at an even row. On closed rows `burned` and
   * `seen` may pass the ends; columns then wrap around.
   */
  readonly burned: PixelRectangle;
}

/** Tiles that represent a picture. */
export interface JudgedTiles {
  readonly tiles: readonly JudgedTile[];
  /** Side of the square in which each tile is filtered by the eye, a power of two. */
  readonly sidePx: number;
  /** Share of the picture, without its margin, that they cover: 1 for all of it. */
  readonly share: number;
}

/** Border left out of the mean if the picture is large enough. The spot has no neighbours there. */
export const ERROR_MARGIN_PX = 16;

/** Width of the real picture around each core, as far as it exists. */
export const HALO_PX = 64;

const MAX_SIDE_PX = 1024;

/** How far burned pixels reach. */
export interface Reach {
  readonly alongPx: number;
  readonly acrossPx: number;
}

/** The largest reach of several exposures. */
export const reachOf = (...plans: readonly ExposurePlan[]): Reach => ({
  alongPx: Math.max(...plans.flatMap(({ evenLines, oddLines }) => [evenLines.reach, oddLines.reach])),
  acrossPx: Math.max(...plans.map(({ across }) => across.reach)),
});

/** A picture that is judged. */
export interface JudgedPicture {
  readonly columns: number;
  readonly rows: number;
  /** Whether the last pixel of a row is a neighbour of the first. */
  readonly closed?: boolean;
}

/** All of a picture, in as few tiles as possible. */
export function allTiles(picture: JudgedPicture, reach: Reach): JudgedTiles {
  const inner = withoutMargin(picture);
  const sidePx = sideFor(Math.max(inner.columns, inner.rows));
  const corePx = sidePx - 2 * HALO_PX;
  const tiles: JudgedTile[] = [];
  for (let y = 0; y < inner.rows; y += corePx) {
    for (let x = 0; x < inner.columns; x += corePx) {
      const core = {
        left: inner.left + x,
        top: inner.top + y,
        columns: Math.min(corePx, inner.columns - x),
        rows: Math.min(corePx, inner.rows - y),
      };
      tiles.push(tileAround(core, picture, reach));
    }
  }
  return { tiles, sidePx, share: 1 };
}

/** How much of a picture is judged. */
export interface SampleSize {
  /** Side of the square in which each tile is filtered, a power of two from 256; its core is 128 less. */
  readonly sidePx: number;
  /** Approximate number of pixels that count. */
  readonly wantedPx: number;
}

/** Separate tiles, spread evenly over a picture too large to judge in full (see `sampleTiles`). */
export function sampledTiles(
  picture: JudgedPicture,
  reach: Reach,
  { sidePx, wantedPx }: SampleSize,
): JudgedTiles {
  const inner = withoutMargin(picture);
  const cores = sampleTiles(inner.columns, inner.rows, sidePx - 2 * HALO_PX, wantedPx);
  const tiles = cores.map((core) =>
    tileAround({ ...core, left: inner.left + core.left, top: inner.top + core.top }, picture, reach),
  );
  const judgedPx = cores.reduce((sum, core) => sum + core.columns * core.rows, 0);
  return { tiles, sidePx, share: judgedPx / (inner.columns * inner.rows) };
}

function withoutMargin({ columns, rows, closed = false }: JudgedPicture): PixelRectangle {
  const room = Math.floor((Math.min(columns, rows) - 1) / 2);
  const marginPx = Math.max(0, Math.min(ERROR_MARGIN_PX, room));
  const sidePx = closed ? 0 : marginPx;
  return {
    left: sidePx,
    top: marginPx,
    columns: columns - 2 * sidePx,
    rows: rows - 2 * marginPx,
  };
}

/** Smallest power of two that holds a picture and its halo, up to the largest. */
function sideFor(lengthPx: number): number {
  const wanted = Math.max(4 * HALO_PX, lengthPx + 2 * HALO_PX);
  return Math.min(MAX_SIDE_PX, 2 ** Math.ceil(Math.log2(wanted)));
}

function tileAround(
  core: PixelRectangle,
  { columns, rows, closed = false }: JudgedPicture,
  { alongPx, acrossPx }: Reach,
): JudgedTile {
  const [first, end] = closed ? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY] : [0, columns];
  const grown = (tile: PixelRectangle, byAlong: number, byAcross: number): PixelRectangle => {
    const left = Math.max(first, tile.left - byAlong);
    const top = Math.max(0, tile.top - byAcross);
    return {
      left,
      top,
      columns: Math.min(end, tile.left + tile.columns + byAlong) - left,
      rows: Math.min(rows, tile.top + tile.rows + byAcross) - top,
    };
  };
  const seen = grown(core, HALO_PX, HALO_PX);
  const reached = grown(seen, alongPx, acrossPx);
  const left = 8 * Math.floor(reached.left / 8);
  const top = reached.top - (reached.top % 2);
  const right = Math.min(end, Math.ceil((reached.left + reached.columns) / 8) * 8);
  const burned = { left, top, columns: right - left, rows: reached.top + reached.rows - top };
  return { core, seen, burned };
}
