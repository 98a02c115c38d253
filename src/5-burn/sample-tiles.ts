import type { PixelRectangle } from "../core/pixel-rectangle.js";

/** A tile and its cell of the grid. */
export interface SampleTile extends PixelRectangle {
  readonly cell: readonly [along: number, across: number];
}

/** Steps of the additive sequence with the lowest discrepancy in the plane: powers of 1/ρ, ρ³ = ρ + 1 (M. Roberts, 2018). */
const PLASTIC = 1.324717957244746;
const STEP_ALONG = 1 / PLASTIC;
const STEP_ACROSS = 1 / PLASTIC ** 2;

/**
 * Sample tiles of a picture too large to judge in full. Each cell of a grid has one tile. Its place in the cell follows a
 * low-discrepancy sequence, so no regular pattern of the picture meets all tiles. Every other tile along each side of the picture
 * touches that side. All pictures of one size have the same tiles.
 *
 * @param sidePx side of a tile; smaller if the picture is smaller
 * @param wantedPx approximate number of pixels to judge
 * @returns tiles that do not overlap
 */
export function sampleTiles(columns: number, rows: number, sidePx: number, wantedPx: number): SampleTile[] {
  const tileColumns = Math.min(sidePx, columns);
  const tileRows = Math.min(sidePx, rows);
  const wanted = Math.max(1, wantedPx / (tileColumns * tileRows));
  const across = gridCount(Math.sqrt((wanted * rows * tileColumns) / (columns * tileRows)), rows, tileRows);
  const along = gridCount(wanted / across, columns, tileColumns);
  const tiles: SampleTile[] = [];
  for (let j = 0; j < across; j++) {
    for (let i = 0; i < along; i++) {
      const n = tiles.length + 1;
      const shareAlong = shareIn(i, along, lone(across, j), (0.5 + n * STEP_ALONG) % 1);
      const shareAcross = shareIn(j, across, lone(along, i), (0.5 + n * STEP_ACROSS) % 1);
      tiles.push({
        left: placeIn(i, along, columns, tileColumns, shareAlong),
        top: placeIn(j, across, rows, tileRows, shareAcross),
        columns: tileColumns,
        rows: tileRows,
        cell: [i, j],
      });
    }
  }
  return tiles;
}

/** Cells along one side: as wanted, but every tile must fit. */
function gridCount(wanted: number, length: number, tile: number): number {
  return Math.max(1, Math.min(Math.round(wanted), Math.floor(length / tile)));
}

/** Number of a row of cells (or column); undefined if there is only one. */
const lone = (count: number, number: number): number | undefined => (count === 1 ? undefined : number);

/**
 * Where in the room of its cell a tile lies, 0..1: every other row touches the near side of the picture, the others the far side, a
 * lone row both.
 */
function shareIn(cell: number, cells: number, row: number | undefined, share: number): number {
  if (cell === 0 && (row === undefined || row % 2 === 0)) return 0;
  return cell === cells - 1 && (row === undefined || row % 2 === 1) ? 1 : share;
}

/** First pixel of a tile at a share 0..1 of the room in its cell. */
function placeIn(cell: number, cells: number, length: number, tile: number, share: number): number {
  const from = Math.floor((cell * length) / cells);
  const room = Math.floor(((cell + 1) * length) / cells) - tile - from;
  return from + Math.min(room, Math.floor(share * (room + 1)));
}
