import type { PictureSize } from "./preview-size.js";

/** Whole burn pixels to one pixel of a smaller picture, along and across. */
export interface Block {
  readonly along: number;
  readonly across: number;
}

/** A picture made small: the mean of each block. Blocks at the right and lower edge may be cut. */
export interface SmallPicture extends PictureSize {
  readonly block: Block;
  /** [rows × columns] */
  readonly values: Float32Array;
}

/** Makes a picture small while its rows come by, top to bottom. */
export interface BoxMeans {
  readonly add: (row: Float32Array) => void;
  /** The same of a row of codes, by what they stand for. */
  readonly addCodes: (codes: Uint16Array, meaning: Float32Array) => void;
  /** When all rows have come. */
  readonly picture: () => SmallPicture;
}

/** @param columns size of the large picture; @param rows of them as many must come */
export function createBoxMeans(columns: number, rows: number, block: Block): BoxMeans {
  const across = Math.ceil(columns / block.along);
  const down = Math.ceil(rows / block.across);
  const values = new Float32Array(across * down);
  let y = 0;

  /** Sums of blocks so far become means with the last row of a block. */
  function endRow(from: number): void {
    y++;
    if (y % block.across !== 0 && y !== rows) return;
    const count = y - Math.floor((y - 1) / block.across) * block.across;
    for (let c = 0; c < across; c++) {
      const width = Math.min(block.along, columns - c * block.along);
      values[from + c] /= count * width;
    }
  }

  return {
    add(row) {
      const from = Math.floor(y / block.across) * across;
      for (let c = 0, x = 0; c < across; c++) {
        let sum = 0;
        for (const end = Math.min(columns, x + block.along); x < end; x++) sum += row[x];
        values[from + c] += sum;
      }
      endRow(from);
    },
    addCodes(codes, meaning) {
      const from = Math.floor(y / block.across) * across;
      for (let c = 0, x = 0; c < across; c++) {
        let sum = 0;
        for (const end = Math.min(columns, x + block.along); x < end; x++) sum += meaning[codes[x]];
        values[from + c] += sum;
      }
      endRow(from);
    },
    picture: () => ({ columns: across, rows: down, block, values }),
  };
}

/** Pixels of the longer side of a picture on a page: sharp on a screen, not too long to load. */
const MOST_LONGER_PX = 1100;

/** Blocks as good as square, for a picture that a page shows. */
export function pageBlock(widthMm: number, heightMm: number, columns: number, rows: number): Block {
  const sideMm = Math.max(widthMm, heightMm) / MOST_LONGER_PX;
  const whole = (pixels: number): number => Math.max(1, Math.round(pixels));
  return { along: whole((sideMm * columns) / widthMm), across: whole((sideMm * rows) / heightMm) };
}
