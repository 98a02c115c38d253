import { describe, expect, it } from "vitest";
import { blueNoiseTile } from "../../src/4-halftone/blue-noise.js";
import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import { voidAndCluster } from "../../src/4-halftone/void-and-cluster.js";
import { seededRandom } from "../../src/core/random.js";
import { halftoneBits } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { meanPower, radialPower } from "../support/radial-power.js";

const SIDE = 128;

function tint(fraction: number): Uint8Array {
  const fractions = new Float32Array(SIDE * SIDE).fill(fraction);
  return halftoneBits(findHalftoneMethod("blue-noise"), fractions, SIDE, SIDE, halftoneSettings());
}

describe("the tile that ships", () => {
  const tile = blueNoiseTile();

  it("is what void and cluster makes of seed 1", { timeout: 60_000 }, () => {
    expect(tile).toEqual(voidAndCluster(SIDE, SIDE, seededRandom(1)));
  });

  it("is a permutation", () => {
    expect(tile.rankCount).toBe(SIDE ** 2);
    expect(Uint16Array.from(tile.ranks).sort()).toEqual(Uint16Array.from({ length: SIDE ** 2 }, (_, i) => i));
  });
});

/*
 * R. A. Ulichney, "Dithering with blue noise", Proc. IEEE 76(1) (1988), 56–79: blue noise has little power below the
 * principal frequency √g, in cycles per pixel (√(1 − g) above one half), and a peak there. White noise is 1 throughout.
 */
describe.each([1 / 16, 1 / 8, 1 / 4, 3 / 4, 7 / 8, 15 / 16])("the spectrum of a tint of %f", (fraction) => {
  const principal = Math.sqrt(Math.min(fraction, 1 - fraction));
  const blue = radialPower(tint(fraction), SIDE);

  it("has little power below half the principal frequency", () => {
    expect(meanPower(blue, 0, principal / 2)).toBeLessThan(0.1);
  });

  it("has its peak near the principal frequency", () => {
    const peak = blue.indexOf(Math.max(...blue)) / SIDE;
    expect(Math.abs(peak / principal - 1)).toBeLessThan(0.25);
    expect(Math.max(...blue)).toBeGreaterThan(1.5);
  });

  it("is not that of white noise", () => {
    const random = seededRandom(3);
    const white = radialPower(
      Uint8Array.from({ length: SIDE * SIDE }, () => (random() < fraction ? 1 : 0)),
      SIDE,
    );
    expect(Math.abs(meanPower(white, 0, principal / 2) - 1)).toBeLessThan(0.15);
  });
});

describe("void and cluster on a small tile, against energies summed afresh", () => {
  const side = 16;
  const size = side * side;
  const ones = Math.round(size / 10);
  const { ranks } = voidAndCluster(side, side, seededRandom(8));

  /** Sum of Gaussians of sigma 1.5 from every pixel that is `chosen`, nearest way round the tile. */
  function energy(at: number, chosen: (rank: number) => boolean): number {
    let sum = 0;
    for (let other = 0; other < size; other++) {
      if (!chosen(ranks[other])) continue;
      const dx = Math.abs((at % side) - (other % side));
      const dy = Math.abs(Math.floor(at / side) - Math.floor(other / side));
      sum += Math.exp(-(Math.min(dx, side - dx) ** 2 + Math.min(dy, side - dy) ** 2) / (2 * 1.5 ** 2));
    }
    return sum;
  }

  const pixels = Array.from({ length: size }, (_, i) => i);
  const pixelOfRank = (rank: number) => ranks.indexOf(rank);

  it("each rank below the first pattern's leaves the tightest cluster of the ones that remain", () => {
    for (let rank = ones - 1; rank > 0; rank--) {
      const isOne = (other: number) => other <= rank;
      const highest = Math.max(...pixels.filter((at) => isOne(ranks[at])).map((at) => energy(at, isOne)));
      expect(energy(pixelOfRank(rank), isOne)).toBeGreaterThan(highest - 1e-6);
    }
  });

  it("each rank up to one half fills the largest void, and beyond it the tightest cluster of blanks", () => {
    for (let rank = ones; rank < size; rank += 3) {
      const isBlank = (other: number) => other >= rank;
      const isOne = (other: number) => other < rank;
      const blanks = pixels.filter((at) => isBlank(ranks[at]));
      const at = pixelOfRank(rank);
      if (rank < size / 2) {
        expect(energy(at, isOne)).toBeLessThan(Math.min(...blanks.map((p) => energy(p, isOne))) + 1e-6);
      } else {
        expect(energy(at, isBlank)).toBeGreaterThan(
          Math.max(...blanks.map((p) => energy(p, isBlank))) - 1e-6,
        );
      }
    }
  });
});
