import type { ThresholdTile } from "./threshold-tile.js";

/**
 * Bayer's dispersed-dot tile of side 2, 4, 8 or 16: B. E. Bayer, "An optimum method for two-level rendition of
 * continuous-tone pictures", IEEE Int. Conf. Communications (1973), 26-11..26-15. Closed form of the recursion
 * M(2n) = [4M, 4M+2; 4M+3, 4M+1]: each bit of the position gives two bits of the rank, the coarsest bit last.
 */
export function bayerTile(side: 2 | 4 | 8 | 16): ThresholdTile {
  const ranks = new Uint16Array(side * side);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      let rank = 0;
      for (let bit = 1; bit < side; bit *= 2) {
        rank = 4 * rank + ((x ^ y) & bit ? 2 : 0) + (y & bit ? 1 : 0);
      }
      ranks[y * side + x] = rank;
    }
  }
  return { columns: side, rows: side, shift: 0, ranks, rankCount: side * side };
}
