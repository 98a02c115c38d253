import type { PixelRectangle } from "../core/pixel-rectangle.js";

/** Steps of the additive sequence with the lowest discrepancy in the plane: powers of 1/ρ, ρ³ = ρ + 1 (M. Roberts, 2018). */
const PLASTIC = 1.324717957244746;
const STEP_ALONG = 1 / PLASTIC;
const STEP_ACROSS = 1 / PLASTIC ** 2;

/**
 * Sample tiles of a picture too large to judge in full. Each cell of a grid has one tile. Its place in the cell follows a
 * low-discrepancy sequence, so no regular pattern of the picture meets all tiles. All pictures of one size have the same tiles.
 *
 * @param sidePx side of a tile; smaller if the picture is smaller
 * @param wantedPx approximate number of pixels to judge
 * @returns tiles that do not overlap, left edges on multiples of 8 and top edges on even rows
 */
export function sampleTiles(
  columns: number,
  rows: number,
  sidePx: number,
  wantedPx: number,
): PixelRectangle[] {
  const tileColumns = Math.min(sidePx, columns);
  const tileRows = Math.min(sidePx, rows);
  const wanted = Math.max(1, wantedPx / (tileColumns * tileRows));
  const across = gridCount(Math.sqrt((wanted * rows * tileColumns) / (columns * tileRows)), rows, tileRows);
  const along = gridCount(wanted / across, columns, tileColumns);
  const tiles: PixelRectangle[] = [];
  for (let j = 0; j < across; j++) {
    for (let i = 0; i < along; i++) {
      const n = tiles.length + 1;
      const left = placeIn(i, along, columns, tileColumns, (0.5 + n * STEP_ALONG) % 1);
      const top = placeIn(j, across, rows, tileRows, (0.5 + n * STEP_ACROSS) % 1);
      tiles.push({ left: left - (left % 8), top: top - (top % 2), columns: tileColumns, rows: tileRows });
    }
  }
  return tiles;
}

/** Cells along one side: as wanted, but every tile must fit with room for its shift to an even place. */
function gridCount(wanted: number, length: number, tile: number): number {
  return Math.max(1, Math.min(Math.round(wanted), Math.floor(length / (tile + 8))));
}

/** First pixel of a tile at a share 0..1 of the room in its cell. */
function placeIn(cell: number, cells: number, length: number, tile: number, share: number): number {
  const from = Math.ceil((cell * length) / cells);
  const to = Math.floor(((cell + 1) * length) / cells);
  // Starts at the next even place, so rounding down stays in the cell.
  const first = cell === 0 ? 0 : Math.min(to - tile, Math.ceil(from / 8) * 8);
  return first + Math.floor(share * Math.max(0, to - tile - first + 1));
}
