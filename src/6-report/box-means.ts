/** Whole pixels to one pixel of a smaller picture, along and across. */
export interface Block {
  readonly along: number;
  readonly across: number;
}

/** A picture made small: the mean of each block. Blocks at the right and lower edge may be cut. */
export interface SmallPicture {
  readonly columns: number;
  readonly rows: number;
  /** [rows × columns] */
  readonly values: Float32Array;
}

/** Makes a picture of codes small while its rows come by, top to bottom. */
export interface BoxMeans {
  readonly add: (codes: Uint16Array) => void;
  /** When all rows have come. */
  readonly picture: () => SmallPicture;
}

/**
 * @param columns size of the large picture; as many as `rows` rows must come
 * @param meaning what a code stands for, by code: that is averaged
 */
export function createBoxMeans(columns: number, rows: number, block: Block, meaning: Float32Array): BoxMeans {
  const across = Math.ceil(columns / block.along);
  const down = Math.ceil(rows / block.across);
  const values = new Float32Array(across * down);
  let y = 0;

  return {
    add(codes) {
      const from = Math.floor(y / block.across) * across;
      for (let c = 0, x = 0; c < across; c++) {
        let sum = 0;
        for (const end = Math.min(columns, x + block.along); x < end; x++) sum += meaning[codes[x]];
        values[from + c] += sum;
      }
      y++;
      if (y % block.across !== 0 && y !== rows) return;
      // The last row of a block makes its sums means.
      const count = y - Math.floor((y - 1) / block.across) * block.across;
      for (let c = 0; c < across; c++) {
        values[from + c] /= count * Math.min(block.along, columns - c * block.along);
      }
    },
    picture: () => ({ columns: across, rows: down, values }),
  };
}
