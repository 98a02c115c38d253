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

/** Below any spot function less crowding. */
const NONE = -2e9;

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
  /** Spot function of the next pixel to burn of each block, and of the last that burned; `NONE` or −`NONE` without one. */
  readonly next: Int32Array;
  readonly last: Int32Array;
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
  const { start, step } = stepper(shape, blocks);
  const count = shape.columns * shape.rows;
  const half = count >> 1;
  const ranks = new Uint32Array(count);
  start(1);
  for (let k = 0; k < half; k++) step(1);
  const atHalf = { burned: blocks.burned.slice(), crowd: blocks.crowd.slice() };
  start(-1);
  for (let rank = half - 1; rank >= 0; rank--) ranks[step(-1)] = rank;
  blocks.crowd.set(atHalf.crowd);
  atHalf.burned.forEach((burned, block) => {
    move(blocks, block, burned - blocks.burned[block]);
  });
  start(1);
  for (let rank = half; rank < count; rank++) ranks[step(1)] = rank;
  return ranks;
}

/** Burns the next pixel (1), or clears the one that should burn last of those that burn (−1). */
type Way = 1 | -1;

interface Stepper {
  /** Before the first step of one way. */
  readonly start: (way: Way) => void;
  /** @returns the pixel that changed */
  readonly step: (way: Way) => number;
}

/** A burned pixel crowds only rows within its reach, so the best block of every other row stays the best. */
function stepper(shape: TileShape, blocks: Blocks): Stepper {
  const { columns, rows, shift } = shape;
  const { sidePx, across, down, pixels, starts, burned, next, last, crowd } = blocks;
  const kernel = crowdKernel(shape);
  const reached = Array.from({ length: rows }, (_, row) =>
    kernel.subarray(2 * columns * row, 2 * columns * (row + 1)).some((weight) => weight !== 0),
  );
  const unchanged = new Int32Array(across * sidePx);
  const middle = sidePx >> 1;
  const bestValues = new Float64Array(down);
  const bestBlocks = new Int32Array(down);

  /** Adds a row of the kernel, and finds the best block of row v. */
  const changeRow = (v: number, weights: Int32Array, from: number, way: Way): void => {
    const candidates = way === 1 ? next : last;
    let best = Number.NEGATIVE_INFINITY;
    for (let block = v * across, at = from; block < (v + 1) * across; block++, at += sidePx) {
      crowd[block] += way * weights[at];
      const value = way * (candidates[block] - crowd[block]);
      if (value <= best) continue;
      best = value;
      bestBlocks[v] = block;
    }
    bestValues[v] = best;
  };

  return {
    start: (way) => {
      for (let v = 0; v < down; v++) changeRow(v, unchanged, 0, way);
    },
    step: (way) => {
      let bestRow = 0;
      for (let v = 1; v < down; v++) if (bestValues[v] > bestValues[bestRow]) bestRow = v;
      const block = bestBlocks[bestRow];
      const pixel = pixels[starts[block] + burned[block] - (way === 1 ? 0 : 1)];
      move(blocks, block, way);
      const x = pixel % columns;
      const y = (pixel - x) / columns;
      for (let v = 0; v < down; v++) {
        const dy = v * sidePx + middle - y;
        const row = modulo(dy, rows);
        // A step into the tile above or below moves the columns.
        const moved = dy < 0 ? shift : dy < rows ? 0 : -shift;
        if (reached[row]) changeRow(v, kernel, 2 * columns * row + modulo(middle + moved - x, columns), way);
      }
      return pixel;
    },
  };
}

/** Changes how many pixels of a block burn. */
function move({ starts, spots, burned, next, last }: Blocks, block: number, by: number): void {
  burned[block] += by;
  const at = starts[block] + burned[block];
  next[block] = at < starts[block + 1] ? spots[at] : NONE;
  last[block] = burned[block] > 0 ? spots[at - 1] : -NONE;
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
  const spots = Int32Array.from(sorted, ({ spot }) => spot);
  return {
    ...{ sidePx, across, down, starts },
    pixels: Uint32Array.from(sorted, ({ pixel }) => pixel),
    spots,
    next: Int32Array.from(members, (_, block) => spots[starts[block]]),
    last: new Int32Array(members.length).fill(-NONE),
    burned: new Uint32Array(members.length),
    crowd: new Int32Array(members.length),
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
