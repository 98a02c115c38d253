import type { SpotPicture } from "./spot-picture.js";

/** Side of a cell, in pixels. */
export const CELL_PX = 4;

/**
 * A picture in cells of 4 × 4 pixels, at one scale. The picture itself is not kept. Values are 8-bit codes; NaN where a part of a
 * cell is transparent.
 */
export interface CellMap {
  readonly columns: number;
  readonly rows: number;
  /** Mean of each cell. */
  readonly mean: Float32Array;
  /** Steepest slope in each cell along the rows, and from row to row, in codes per pixel. */
  readonly slopeAlong: Float32Array;
  readonly slopeAcross: Float32Array;
  /** Variance of noise, if what differs between diagonal neighbours is noise. */
  readonly diagonal: Float32Array;
}

/** A map that is filled row by row. */
export interface GrowingMap {
  readonly map: CellMap;
  /** Takes the next row. */
  readonly add: (row: Float32Array) => void;
}

/** Maps of a picture at its own scale, at half of it, at a quarter, and so on. */
export function cellMaps(picture: SpotPicture, scales: number): CellMap[] {
  const maps: GrowingMap[] = [];
  let add = (_row: Float32Array): void => {};
  for (let scale = scales - 1; scale >= 0; scale--) {
    const [columns, rows] = [picture.columns >> scale, picture.rows >> scale];
    const growing = growingMap(columns, rows);
    const pass = scale < scales - 1 ? halved(columns, add) : add;
    add = (row) => {
      growing.add(row);
      pass(row);
    };
    maps.unshift(growing);
  }
  for (let y = 0; y < picture.rows; y++) add(picture.row(y));
  return maps.map(({ map }) => map);
}

/** Passes on the means of 2 × 2 pixels. */
function halved(columns: number, add: (row: Float32Array) => void): (row: Float32Array) => void {
  const half = new Float32Array(columns >> 1);
  let odd = false;
  return (row) => {
    for (let x = 0; x < half.length; x++) {
      const pair = (row[2 * x] + row[2 * x + 1]) / 4;
      half[x] = odd ? half[x] + pair : pair;
    }
    if (odd) add(half);
    odd = !odd;
  };
}

function growingMap(pictureColumns: number, pictureRows: number): GrowingMap {
  const columns = Math.floor(pictureColumns / CELL_PX);
  const rows = Math.floor(pictureRows / CELL_PX);
  const cells = (): Float32Array => new Float32Array(columns * rows);
  const map: CellMap = {
    columns,
    rows,
    mean: cells(),
    slopeAlong: cells(),
    slopeAcross: cells(),
    diagonal: cells(),
  };
  // Rows y − 2, y − 1 and y.
  let kept = [0, 1, 2].map(() => new Float32Array(pictureColumns));
  let y = 0;
  const add = (row: Float32Array): void => {
    kept = [kept[1], kept[2], kept[0]];
    kept[2].set(row.subarray(0, pictureColumns));
    const cellRow = Math.floor(y / CELL_PX);
    if (cellRow < rows) addMeans(kept[2], map, cellRow * columns);
    if (y % 2 === 1 && cellRow < rows) addDiagonals(kept[1], kept[2], map, cellRow * columns);
    // The slopes of row y − 1 need both its neighbours.
    const slopeRow = Math.floor((y - 1) / CELL_PX);
    if (y >= 2 && slopeRow < rows) raiseSlopes(kept, map, slopeRow * columns);
    y++;
  };
  return { map, add };
}

function addMeans(row: Float32Array, { mean, columns }: CellMap, at: number): void {
  for (let cell = 0, x = 0; cell < columns; cell++, x += CELL_PX) {
    mean[at + cell] += (row[x] + row[x + 1] + row[x + 2] + row[x + 3]) / (CELL_PX * CELL_PX);
  }
}

/**
 * Half the difference of the diagonals of each 2 × 2 pixels: the finest diagonal wavelet of Haar, in which a picture has little and
 * white noise keeps its variance (D. L. Donoho, I. M. Johnstone, "Ideal spatial adaptation by wavelet shrinkage", Biometrika 81,
 * 1994; from memory).
 */
function addDiagonals(upper: Float32Array, lower: Float32Array, { diagonal, columns }: CellMap, at: number) {
  for (let cell = 0, x = 0; cell < columns; cell++, x += CELL_PX) {
    for (let i = x; i < x + CELL_PX; i += 2) {
      const difference = (upper[i] - upper[i + 1] - lower[i] + lower[i + 1]) / 2;
      diagonal[at + cell] += (difference * difference) / CELL_PX;
    }
  }
}

/** Slopes by Sobel's operator: central differences, averaged over three lines with the weights 1, 2, 1. */
function raiseSlopes([above, here, below]: readonly Float32Array[], map: CellMap, at: number): void {
  const { slopeAlong, slopeAcross, columns } = map;
  const end = Math.min(columns * CELL_PX, here.length - 1);
  for (let x = 1; x < end; x++) {
    const right = above[x + 1] + 2 * here[x + 1] + below[x + 1];
    const left = above[x - 1] + 2 * here[x - 1] + below[x - 1];
    const down = below[x - 1] + 2 * below[x] + below[x + 1] - above[x - 1] - 2 * above[x] - above[x + 1];
    const [along, across] = [Math.abs(right - left) / 8, Math.abs(down) / 8];
    const cell = at + Math.floor(x / CELL_PX);
    if (along > slopeAlong[cell]) slopeAlong[cell] = along;
    if (across > slopeAcross[cell]) slopeAcross[cell] = across;
  }
}
