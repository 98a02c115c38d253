/** Whole pixels per pixel of the smaller picture, along and across. */
export interface Block {
  readonly along: number;
  readonly across: number;
}

/** A reduced picture: the mean of each block. Blocks at the right and lower edge may be cut. */
export interface SmallPicture {
  readonly columns: number;
  readonly rows: number;
  /** [rows × columns] in 65535ths. Small integers, because they stay in memory while the rest of the piece is made. */
  readonly values: Uint16Array;
}

/** Reduces a picture of codes while its rows pass, top to bottom. */
export interface BoxMeans {
  readonly add: (codes: Uint16Array) => void;
  /** Call it after all rows. */
  readonly picture: () => SmallPicture;
}

const FULL = 65535;

/**
 * @param columns size of the large picture; `rows` rows must be added
 * @param meaning the value of each code, 0..1, of which the mean is taken
 */
export function createBoxMeans(columns: number, rows: number, block: Block, meaning: Float32Array): BoxMeans {
  const across = Math.ceil(columns / block.along);
  const down = Math.ceil(rows / block.across);
  const values = new Uint16Array(across * down);
  const sums = new Float64Array(across);
  let y = 0;

  return {
    add(codes) {
      for (let c = 0, x = 0; c < across; c++) {
        let sum = 0;
        for (const end = Math.min(columns, x + block.along); x < end; x++) sum += meaning[codes[x]];
        sums[c] += sum;
      }
      y++;
      if (y % block.across !== 0 && y !== rows) return;
      // The last row of a block makes its sums means.
      const first = Math.floor((y - 1) / block.across);
      const count = y - first * block.across;
      for (let c = 0; c < across; c++) {
        const width = Math.min(block.along, columns - c * block.along);
        values[first * across + c] = Math.round((FULL * sums[c]) / (count * width));
      }
      sums.fill(0);
    },
    picture: () => ({ columns: across, rows: down, values }),
  };
}

/** Row y of a small picture, 0..1. The array is used again for the next row. */
export function meansRow({ columns, values }: SmallPicture): (y: number) => Float32Array {
  const row = new Float32Array(columns);
  return (y) => {
    for (let x = 0; x < columns; x++) row[x] = values[y * columns + x] / FULL;
    return row;
  };
}
