import { modulo } from "../core/modulo.js";
import { cross, spotFunction } from "./lattice.js";
import type { TileShape } from "./tile-shape.js";

/**
 * How far a burned pixel crowds its surroundings: standard deviation of a Gaussian in periods. At 0.7 it leaves 0.006 % of the
 * screen itself, so crowding sees only where dots are larger or smaller than others.
 */
const CROWD_PERIODS = 0.7;

/**
 * Weight of crowding against the shape of a dot, per pixel of the period. From half to twice as much, the noise of tints below
 * the frequency of the screen stays within a tenth of its least, at periods of 1.6 to 12 pixels. At a tenth it doubles.
 */
const CROWD_WEIGHT = 20;

/** Crowding is followed for blocks of pixels, six or more to a period: pixel by pixel up to periods of 11 pixels. */
const BLOCKS_PER_PERIOD = 4;

/** Spot function and crowding are whole numbers, so that sums are exact and ties are the same on every machine. */
const SCALE = 65536;

/** The pixels of a tile in blocks, and how many of each block burn: the first in the order of the spot function. */
interface Blocks {
  readonly sidePx: number;
  readonly across: number;
  readonly down: number;
  /** Pixels of block b, by falling spot function: from starts[b] to starts[b + 1]. */
  readonly pixels: Uint32Array;
  readonly starts: Uint32Array;
  /** [pixels] −SCALE..SCALE, by the place in `pixels`. */
  readonly spots: Int32Array;
  readonly burned: Uint32Array;
  /** How crowded the middle of a block is. */
  readonly crowd: Int32Array;
}

/**
 * The order in which the pixels of a tile burn. Each next pixel is the one with the largest spot function, less how crowded its
 * surroundings are. So dots keep the shape of the screen as well as the grid can show it. Cells do not have equal numbers of
 * pixels, but dots burn equal shares, and no moiré between cells and pixels appears as tone. The order starts from half of
 * the pixels, towards both ends, so that shadows mirror highlights (from half a pattern to both ends: R. A. Ulichney, "The
 * void-and-cluster method for dither array generation", Proc. SPIE 1913 (1993); with the spot function: ours).
 *
 * @returns [rows × columns] ranks
 */
export function growDots(shape: TileShape): Uint32Array {
  const blocks = blocksOf(shape);
  const put = crowding(shape, blocks);
  const count = shape.columns * shape.rows;
  const half = count >> 1;
  for (let k = 0; k < half; k++) burn(blocks, put);
  evenOut(blocks, put, half);
  const ranks = new Uint32Array(count);
  const [burned, crowd] = [blocks.burned.slice(), blocks.crowd.slice()];
  for (let rank = half - 1; rank >= 0; rank--) ranks[clear(blocks, put)] = rank;
  blocks.burned.set(burned);
  blocks.crowd.set(crowd);
  for (let rank = half; rank < count; rank++) ranks[burn(blocks, put)] = rank;
  return ranks;
}

/** Moves pixels from crowded places to bare ones until none moves. */
function evenOut(blocks: Blocks, put: Put, maxMoves: number): void {
  for (let move = 0; move < maxMoves; move++) {
    if (clear(blocks, put) === burn(blocks, put)) return;
  }
}

/** Burns the next pixel. */
function burn(blocks: Blocks, put: Put): number {
  const { starts, spots, burned, crowd, pixels } = blocks;
  let best = 0;
  let largest = Number.NEGATIVE_INFINITY;
  for (let block = 0; block < burned.length; block++) {
    const next = starts[block] + burned[block];
    if (next === starts[block + 1]) continue;
    const value = spots[next] - crowd[block];
    if (value <= largest) continue;
    largest = value;
    best = block;
  }
  const pixel = pixels[starts[best] + burned[best]++];
  put(pixel, 1);
  return pixel;
}

/** Clears the pixel that should burn last of those that burn. */
function clear(blocks: Blocks, put: Put): number {
  const { starts, spots, burned, crowd, pixels } = blocks;
  let best = 0;
  let smallest = Number.POSITIVE_INFINITY;
  for (let block = 0; block < burned.length; block++) {
    if (burned[block] === 0) continue;
    const value = spots[starts[block] + burned[block] - 1] - crowd[block];
    if (value >= smallest) continue;
    smallest = value;
    best = block;
  }
  const pixel = pixels[starts[best] + --burned[best]];
  put(pixel, -1);
  return pixel;
}

function blocksOf({ columns, rows, cell }: TileShape): Blocks {
  const sidePx = Math.max(1, Math.floor(Math.sqrt(cross(...cell)) / BLOCKS_PER_PERIOD));
  const [across, down] = [Math.ceil(columns / sidePx), Math.ceil(rows / sidePx)];
  const members = Array.from({ length: across * down }, (): { pixel: number; spot: number }[] => []);
  for (let pixel = 0; pixel < columns * rows; pixel++) {
    const [x, y] = [pixel % columns, Math.floor(pixel / columns)];
    const spot = Math.round(SCALE * spotFunction([x + 0.5, y + 0.5], cell));
    members[Math.floor(y / sidePx) * across + Math.floor(x / sidePx)].push({ pixel, spot });
  }
  const starts = new Uint32Array(members.length + 1);
  members.forEach((block, b) => {
    block.sort((p, q) => q.spot - p.spot || p.pixel - q.pixel);
    starts[b + 1] = starts[b] + block.length;
  });
  const sorted = members.flat();
  return {
    ...{ sidePx, across, down, starts },
    pixels: Uint32Array.from(sorted, ({ pixel }) => pixel),
    spots: Int32Array.from(sorted, ({ spot }) => spot),
    burned: new Uint32Array(members.length),
    crowd: new Int32Array(members.length),
  };
}

/** Adds the crowding of a pixel that burns (1), or takes it away (−1). */
type Put = (pixel: number, sign: 1 | -1) => void;

function crowding(shape: TileShape, { sidePx, across, down, crowd }: Blocks): Put {
  const { columns, rows, shift } = shape;
  const kernel = crowdKernel(shape);
  const middle = sidePx >> 1;
  return (pixel, sign) => {
    const x = pixel % columns;
    const y = (pixel - x) / columns;
    for (let v = 0, block = 0; v < down; v++) {
      const dy = v * sidePx + middle - y;
      const [row, moved] = dy < 0 ? [dy + rows, shift] : [dy % rows, dy < rows ? 0 : -shift];
      let at = 2 * columns * row + modulo(middle + moved - x, columns);
      for (let u = 0; u < across; u++, block++, at += sidePx) crowd[block] += sign * kernel[at];
    }
  };
}

/** [rows × 2 columns] Crowding at an offset from a burned pixel, on the plane that the tile covers; each row twice. */
function crowdKernel({ columns, rows, shift, cell }: TileShape): Int32Array {
  const periodPx = Math.sqrt(cross(...cell));
  const sigmaPx = CROWD_PERIODS * periodPx;
  const reach = Math.ceil(3.5 * sigmaPx);
  const peak = (CROWD_WEIGHT * periodPx * SCALE) / (2 * Math.PI * sigmaPx * sigmaPx);
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigmaPx * sigmaPx)),
  );
  const sums = new Float64Array(rows * columns);
  for (let dy = -reach; dy <= reach; dy++) {
    const tilesDown = Math.floor(dy / rows);
    const row = (dy - tilesDown * rows) * columns;
    for (let dx = -reach; dx <= reach; dx++) {
      sums[row + modulo(dx - tilesDown * shift, columns)] += weights[dx + reach] * weights[dy + reach];
    }
  }
  return Int32Array.from({ length: 2 * rows * columns }, (_, i) => {
    const row = Math.floor(i / (2 * columns));
    return Math.round(peak * sums[row * columns + (i % columns)]);
  });
}
