import type { Random } from "../core/random.js";
import type { ThresholdTile } from "./ordered.js";

/** Spread of the energy filter, in pixels: 1.5 in the paper. */
const SIGMA_PX = 1.5;
const INITIAL_SHARE = 0.1;

/**
 * Blue-noise threshold tile: R. A. Ulichney, "The void-and-cluster method for dither array generation", Proc. SPIE 1913
 * (1993), 332–343. Every rank in turn goes to the largest void (or leaves the tightest cluster) of the pattern so far, the
 * tile's edges joined.
 *
 * Energies are sums of whole numbers, so equal patterns tie exactly and every machine breaks the tie alike.
 *
 * @param side tile side in pixels, a power of two from 8 to 256; time grows with side⁴
 */
export function voidAndCluster(side: number, random: Random): ThresholdTile {
  const size = side * side;
  const pattern = initialPattern(side, random);
  const ranks = new Uint16Array(size);
  const ones = pattern.count();

  const shrinking = pattern.copy();
  for (let rank = ones - 1; rank >= 0; rank--) {
    const at = shrinking.tightest(1);
    shrinking.flip(at);
    ranks[at] = rank;
  }
  for (let rank = ones; rank < size; rank++) {
    // Past one half the blanks are the minority: the tightest cluster of blanks is filled, which is the pixel where the
    // energy of the ones is lowest, since both energies sum to the same constant everywhere.
    const at = pattern.tightest(0);
    pattern.flip(at);
    ranks[at] = rank;
  }
  return { columns: side, rows: side, shift: 0, ranks, rankCount: size };
}

/** Bits on a torus, with the energy of the ones kept up to date at every pixel. */
class TorusPattern {
  constructor(
    private readonly side: number,
    private readonly kernel: Int32Array,
    private readonly bits: Uint8Array,
    private readonly energy: Float64Array,
  ) {}

  static empty(side: number): TorusPattern {
    return new TorusPattern(
      side,
      gaussianKernel(side),
      new Uint8Array(side * side),
      new Float64Array(side * side),
    );
  }

  copy(): TorusPattern {
    return new TorusPattern(this.side, this.kernel, this.bits.slice(), this.energy.slice());
  }

  count(): number {
    return this.bits.reduce((sum, bit) => sum + bit, 0);
  }

  has(at: number): boolean {
    return this.bits[at] === 1;
  }

  /** Among the pixels that hold `bit`: for ones the highest energy (tightest cluster), for blanks the lowest (largest void). */
  tightest(bit: 0 | 1): number {
    const { bits, energy } = this;
    const sign = bit === 1 ? 1 : -1;
    let best = -1;
    let bestEnergy = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < bits.length; i++) {
      if (bits[i] === bit && sign * energy[i] > bestEnergy) {
        best = i;
        bestEnergy = sign * energy[i];
      }
    }
    return best;
  }

  flip(at: number): void {
    const { side, kernel, bits, energy } = this;
    const sign = bits[at] === 1 ? -1 : 1;
    bits[at] ^= 1;
    const x0 = at % side;
    const y0 = (at - x0) / side;
    for (let y = 0; y < side; y++) {
      const kernelRow = ((y - y0 + side) % side) * side;
      for (let x = 0; x < side; x++)
        energy[y * side + x] += sign * kernel[kernelRow + ((x - x0 + side) % side)];
    }
  }
}

function gaussianKernel(side: number): Int32Array {
  const kernel = new Int32Array(side * side);
  for (let y = 0; y < side; y++) {
    const dy = Math.min(y, side - y);
    for (let x = 0; x < side; x++) {
      const dx = Math.min(x, side - x);
      kernel[y * side + x] = Math.round(2 ** 28 * Math.exp(-(dx * dx + dy * dy) / (2 * SIGMA_PX * SIGMA_PX)));
    }
  }
  return kernel;
}

/** A tenth of ones at random, then the tightest cluster moved to the largest void until that changes nothing. */
function initialPattern(side: number, random: Random): TorusPattern {
  const pattern = TorusPattern.empty(side);
  const size = side * side;
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
