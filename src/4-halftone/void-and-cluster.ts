import type { Random } from "../core/random.js";
import type { ThresholdTile } from "./threshold-tile.js";

/** Spread of the energy filter, in pixels: 1.5 in the paper. */
const SIGMA_PX = 1.5;
const INITIAL_SHARE = 0.1;

/**
 * Blue-noise threshold tile: R. A. Ulichney, "The void-and-cluster method for dither array generation", Proc. SPIE 1913
 * (1993), 332–343. Each rank in turn goes to the largest void of the pattern so far, or to its tightest cluster. The
 * edges of the tile are joined.
 *
 * Energies are sums of whole numbers, so equal patterns tie exactly and every machine makes the same choice.
 *
 * @param columns, rows of the tile, up to 65536 pixels; 128 × 128 take about a third of a second
 */
export function voidAndCluster(columns: number, rows: number, random: Random): ThresholdTile {
  const size = columns * rows;
  const pattern = initialPattern(columns, rows, random);
  const ranks = new Uint16Array(size);
  const ones = pattern.count();

  const shrinking = pattern.copy();
  for (let rank = ones - 1; rank >= 0; rank--) {
    const at = shrinking.tightest(1);
    shrinking.flip(at);
    ranks[at] = rank;
  }
  for (let rank = ones; rank < size; rank++) {
    // Above one half the blanks are the minority, and the tightest cluster of blanks is filled. That is the pixel with the lowest
    // energy of the ones, because both energies add up to the same constant everywhere.
    const at = pattern.tightest(0);
    pattern.flip(at);
    ranks[at] = rank;
  }
  return { columns, rows, shift: 0, ranks, rankCount: size };
}

/** Bits on a torus, with the energy of the ones kept up to date at every pixel. */
class TorusPattern {
  /** [rows] Tightest pixel of each row, −1 for none, `STALE` after a change of the row. */
  private readonly tightestOfRow: readonly [blanks: Int32Array, ones: Int32Array];

  constructor(
    private readonly columns: number,
    private readonly rows: number,
    private readonly kernel: LocalKernel,
    private readonly bits: Uint8Array,
    private readonly energy: Float64Array,
  ) {
    this.tightestOfRow = [new Int32Array(rows).fill(STALE), new Int32Array(rows).fill(STALE)];
  }

  static empty(columns: number, rows: number): TorusPattern {
    const size = columns * rows;
    const kernel = localKernel(columns, rows);
    return new TorusPattern(columns, rows, kernel, new Uint8Array(size), new Float64Array(size));
  }

  copy(): TorusPattern {
    return new TorusPattern(this.columns, this.rows, this.kernel, this.bits.slice(), this.energy.slice());
  }

  count(): number {
    return this.bits.reduce((sum, bit) => sum + bit, 0);
  }

  has(at: number): boolean {
    return this.bits[at] === 1;
  }

  /**
   * Among the pixels that hold `bit`: for ones the highest energy (tightest cluster), for blanks the lowest (largest void). The
   * first of equal pixels.
   */
  tightest(bit: 0 | 1): number {
    const { energy, rows } = this;
    const ofRow = this.tightestOfRow[bit];
    const sign = bit === 1 ? 1 : -1;
    let best = -1;
    let bestEnergy = Number.NEGATIVE_INFINITY;
    for (let y = 0; y < rows; y++) {
      if (ofRow[y] === STALE) ofRow[y] = this.tightestIn(y, bit, sign);
      const at = ofRow[y];
      if (at >= 0 && sign * energy[at] > bestEnergy) {
        best = at;
        bestEnergy = sign * energy[at];
      }
    }
    return best;
  }

  flip(at: number): void {
    const { columns, rows, kernel, bits, energy } = this;
    const sign = bits[at] === 1 ? -1 : 1;
    bits[at] ^= 1;
    const x0 = at % columns;
    const y0 = (at - x0) / columns;
    const { left, right, up, down, values } = kernel;
    for (let dy = -up, k = 0; dy <= down; dy++) {
      const y = (y0 + dy + rows) % rows;
      for (let dx = -left; dx <= right; dx++) {
        energy[y * columns + ((x0 + dx + columns) % columns)] += sign * values[k++];
      }
      this.tightestOfRow[0][y] = STALE;
      this.tightestOfRow[1][y] = STALE;
    }
  }

  private tightestIn(y: number, bit: 0 | 1, sign: 1 | -1): number {
    const { bits, energy, columns } = this;
    let best = -1;
    let bestEnergy = Number.NEGATIVE_INFINITY;
    for (let i = y * columns; i < (y + 1) * columns; i++) {
      if (bits[i] === bit && sign * energy[i] > bestEnergy) {
        best = i;
        bestEnergy = sign * energy[i];
      }
    }
    return best;
  }
}

/** Marks a row whose tightest pixel is unknown. */
const STALE = -2;

/** The filter, −left..right × −up..down, row-major: limited to numbers other than 0 and to one turn of the torus. */
interface LocalKernel {
  readonly left: number;
  readonly right: number;
  readonly up: number;
  readonly down: number;
  readonly values: Int32Array;
}

const KERNEL_ONE = 2 ** 28;
const REACH_PX = Math.floor(SIGMA_PX * Math.sqrt(2 * Math.log(2 * KERNEL_ONE)));

function localKernel(columns: number, rows: number): LocalKernel {
  const [left, right] = [Math.min(REACH_PX, (columns - 1) >> 1), Math.min(REACH_PX, columns >> 1)];
  const [up, down] = [Math.min(REACH_PX, (rows - 1) >> 1), Math.min(REACH_PX, rows >> 1)];
  const values: number[] = [];
  for (let dy = -up; dy <= down; dy++) {
    for (let dx = -left; dx <= right; dx++) {
      values.push(Math.round(KERNEL_ONE * Math.exp(-(dx * dx + dy * dy) / (2 * SIGMA_PX * SIGMA_PX))));
    }
  }
  return { left, right, up, down, values: Int32Array.from(values) };
}

/** A tenth of ones at random. Then the tightest cluster moves to the largest void until nothing changes. */
function initialPattern(columns: number, rows: number, random: Random): TorusPattern {
  const pattern = TorusPattern.empty(columns, rows);
  const size = columns * rows;
  for (let placed = 0; placed < Math.round(size * INITIAL_SHARE); ) {
    const at = Math.floor(random() * size);
    if (pattern.has(at)) continue;
    pattern.flip(at);
    placed++;
  }
  for (;;) {
    const cluster = pattern.tightest(1);
    pattern.flip(cluster);
    const hole = pattern.tightest(0);
    pattern.flip(hole);
    if (hole === cluster) return pattern;
  }
}
