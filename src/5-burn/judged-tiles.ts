import { grownWithin, type PixelRectangle } from "../core/pixel-rectangle.js";
import type { Pitch } from "../core/plane.js";
import type { Spot } from "../core/spot.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { sampleTiles } from "./sample-tiles.js";
import type { Stratum } from "./sampled-error.js";
import type { TilePart } from "./tile-sums.js";

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
  /** The core, cut where it passes from one stratum to another. */
  readonly parts: readonly TilePart[];
  /** Number of its column and of its row of tiles. */
  readonly cell: readonly [along: number, across: number];
}

/** Tiles that represent a picture. */
export interface JudgedTiles {
  readonly tiles: readonly JudgedTile[];
  /** Side of the square in which each tile is filtered by the eye, a power of two. */
  readonly sidePx: number;
  /** Share of the picture, without its margin, that they cover: 1 for all of it. */
  readonly share: number;
  readonly strata: readonly Stratum[];
  /** The picture without its margin. */
  readonly inner: PixelRectangle;
}

/** Smallest border that is left out of the mean if the picture is large enough. The spot has no neighbours there. */
const MIN_MARGIN_PX = 16;

/** Width of the real picture around each core, as far as it exists. */
export const HALO_PX = 64;

const MAX_SIDE_PX = 1024;

/** A distance in pixels along and across the scan lines, such as the reach of a burned pixel. */
export interface Reach {
  readonly alongPx: number;
  readonly acrossPx: number;
}

/** The border that is left out: 16 pixels or one spot diameter, whichever is more (section 6). */
export function errorMargin(spot: Spot, pitch: Pitch): Reach {
  const px = (spotMm: number, pitchMm: number): number =>
    Math.max(MIN_MARGIN_PX, Math.ceil(spotMm / pitchMm - 1e-9));
  return { alongPx: px(spot.alongMm, pitch.alongMm), acrossPx: px(spot.acrossMm, pitch.acrossMm) };
}

const MIN_MARGIN: Reach = { alongPx: MIN_MARGIN_PX, acrossPx: MIN_MARGIN_PX };

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
  /** See `errorMargin`. Default: 16 pixels. */
  readonly margin?: Reach;
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
      const { columns, rows } = core;
      const parts = [{ left: 0, top: 0, columns, rows, stratum: 0 }];
      tiles.push({ ...tileAround(core, picture, reach), parts, cell: [x / corePx, y / corePx] });
    }
  }
  return { tiles, sidePx, share: 1, strata: [{ area: 1, judged: 1 }], inner };
}

/** How much of a picture is judged. */
export interface SampleSize {
  /** Side of the square in which each tile is filtered, a power of two from 256; its core is 128 less. */
  readonly sidePx: number;
  /** Approximate number of pixels that count. */
  readonly wantedPx: number;
  /**
   * Width of a stratum of its own along the edges of the picture. The pale outermost strip of a piece, where spots lack neighbours,
   * glares into it, so it has larger errors than the middle. Default: none.
   */
  readonly edge?: Reach;
}

/** Separate tiles, spread evenly over a picture too large to judge in full (see `sampleTiles`). */
export function sampledTiles(
  picture: JudgedPicture,
  reach: Reach,
  { sidePx, wantedPx, edge = { alongPx: 0, acrossPx: 0 } }: SampleSize,
): JudgedTiles {
  const inner = withoutMargin(picture);
  const cores = sampleTiles(inner.columns, inner.rows, sidePx - 2 * HALO_PX, wantedPx);
  const middle = middleOf(inner, { ...edge, alongPx: picture.closed ? 0 : edge.alongPx });
  const tiles = cores.map(({ cell, ...core }): JudgedTile => {
    const placed = { ...core, left: inner.left + core.left, top: inner.top + core.top };
    return { ...tileAround(placed, picture, reach), parts: partsOf(core, middle), cell };
  });
  const areas = [middle.columns * middle.rows, inner.columns * inner.rows - middle.columns * middle.rows];
  const strata = areas.map((area, stratum): Stratum => {
    const parts = tiles.flatMap((tile) => tile.parts).filter((part) => part.stratum === stratum);
    const judged = areaOf(parts) / Math.max(1, area);
    return { area: judged === 0 ? 0 : area, judged };
  });
  const whole = strata.reduce((sum, { area }) => sum + area, 0);
  return {
    ...{ tiles, sidePx, inner, share: areaOf(cores) / (inner.columns * inner.rows) },
    strata: strata.map(({ area, judged }) => ({ area: area / whole, judged })),
  };
}

/** Some of the tiles, spread over all of them, with about the wanted number of pixels, and the strata that they stand for. */
export function fewerTiles(
  { tiles, strata }: JudgedTiles,
  wantedPx: number,
): Pick<JudgedTiles, "tiles" | "strata"> {
  const step = Math.max(1, Math.floor(areaOf(tiles.map(({ core }) => core)) / wantedPx));
  // Along diagonals, so that every side of the picture stays.
  const kept = tiles.filter(({ cell: [along, across] }) => (along + across) % step === 0);
  const px = (from: readonly JudgedTile[], stratum: number): number =>
    areaOf(from.flatMap(({ parts }) => parts).filter((part) => part.stratum === stratum));
  const keptShares = strata.map((_, stratum) => px(kept, stratum) / Math.max(1, px(tiles, stratum)));
  const whole = strata.reduce((sum, { area }, k) => sum + (keptShares[k] > 0 ? area : 0), 0);
  return {
    tiles: kept,
    strata: strata.map(({ area, judged }, k) => ({
      area: keptShares[k] > 0 ? area / whole : 0,
      judged: judged * keptShares[k],
    })),
  };
}

const areaOf = (parts: readonly PixelRectangle[]): number =>
  parts.reduce((sum, { columns, rows }) => sum + columns * rows, 0);

/** The inner rectangle without its edges, counted from its corner. */
function middleOf({ columns, rows }: PixelRectangle, { alongPx, acrossPx }: Reach): PixelRectangle {
  const left = Math.min(alongPx, Math.floor(columns / 2));
  const top = Math.min(acrossPx, Math.floor(rows / 2));
  return { left, top, columns: columns - 2 * left, rows: rows - 2 * top };
}

/** A core cut into its part of the middle (stratum 0) and up to four parts of the edges (stratum 1). */
function partsOf(core: PixelRectangle, middle: PixelRectangle): TilePart[] {
  const within = (from: number, size: number, start: number, length: number): [number, number] => {
    const first = Math.min(size, Math.max(0, start - from));
    return [first, Math.min(size, Math.max(first, start + length - from))];
  };
  const [x0, x1] = within(core.left, core.columns, middle.left, middle.columns);
  const [y0, y1] = within(core.top, core.rows, middle.top, middle.rows);
  const part = (stratum: number, [left, right]: readonly number[], [top, bottom]: readonly number[]) => ({
    ...{ stratum, left, top, columns: right - left, rows: bottom - top },
  });
  const { columns, rows } = core;
  return [
    part(0, [x0, x1], [y0, y1]),
    part(1, [0, columns], [0, y0]),
    part(1, [0, columns], [y1, rows]),
    part(1, [0, x0], [y0, y1]),
    part(1, [x1, columns], [y0, y1]),
  ].filter((each) => each.columns > 0 && each.rows > 0);
}

function withoutMargin({
  columns,
  rows,
  closed = false,
  margin = MIN_MARGIN,
}: JudgedPicture): PixelRectangle {
  const room = Math.floor((Math.min(columns, rows) - 1) / 2);
  const topPx = Math.max(0, Math.min(margin.acrossPx, room));
  const sidePx = closed ? 0 : Math.max(0, Math.min(margin.alongPx, room));
  return {
    left: sidePx,
    top: topPx,
    columns: columns - 2 * sidePx,
    rows: rows - 2 * topPx,
  };
}

/** Smallest power of two that holds a picture and its halo, up to the largest. */
function sideFor(lengthPx: number): number {
  const wanted = Math.max(4 * HALO_PX, lengthPx + 2 * HALO_PX);
  return Math.min(MAX_SIDE_PX, 2 ** Math.ceil(Math.log2(wanted)));
}

function tileAround(
  core: PixelRectangle,
  picture: JudgedPicture,
  { alongPx, acrossPx }: Reach,
): Pick<JudgedTile, "core" | "seen" | "burned"> {
  const seen = grownWithin(picture, core, HALO_PX, HALO_PX);
  const reached = grownWithin(picture, seen, alongPx, acrossPx);
  const left = 8 * Math.floor(reached.left / 8);
  const top = reached.top - (reached.top % 2);
  const end = picture.closed ? Number.POSITIVE_INFINITY : picture.columns;
  const right = Math.min(end, Math.ceil((reached.left + reached.columns) / 8) * 8);
  const burned = { left, top, columns: right - left, rows: reached.top + reached.rows - top };
  return { core, seen, burned };
}
