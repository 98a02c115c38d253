import { seededRandom } from "../core/random.js";
import { tileColumnsOf } from "../core/wrap.js";
import { BLUE_NOISE_RANKS_BASE64, BLUE_NOISE_SIDE_PX } from "./blue-noise-128.js";
import type { HalftoneSettings, Repeat } from "./method.js";
import type { ThresholdTile } from "./threshold-tile.js";
import { voidAndCluster } from "./void-and-cluster.js";

const SEED = 1;
const RING_TILE = { minColumns: 91, rows: 128 } as const;

/** Size of the tile of a job. */
export const blueNoiseRepeat = ({ ringColumns }: HalftoneSettings): Repeat => ({
  columns: ringColumns === 0 ? BLUE_NOISE_SIDE_PX : tileColumnsOf(ringColumns, RING_TILE.minColumns),
  rows: ringColumns === 0 ? BLUE_NOISE_SIDE_PX : RING_TILE.rows,
});

/** The stored tile, or for a ring a new tile, usually 91 to 182 pixels wide, that fits round it a whole number of times. */
export function blueNoiseTileFor(settings: HalftoneSettings): ThresholdTile {
  if (settings.ringColumns === 0) return blueNoiseTile();
  const { columns, rows } = blueNoiseRepeat(settings);
  return voidAndCluster(columns, rows, seededRandom(SEED));
}

/** The stored blue-noise tile: 128 × 128, void and cluster, seed 1. It saves the time to make it. */
export function blueNoiseTile(): ThresholdTile {
  const bytes = Buffer.from(BLUE_NOISE_RANKS_BASE64, "base64");
  const ranks = new Uint16Array(bytes.length / 2);
  for (let i = 0; i < ranks.length; i++) ranks[i] = bytes.readUInt16LE(2 * i);
  return { columns: BLUE_NOISE_SIDE_PX, rows: BLUE_NOISE_SIDE_PX, shift: 0, ranks, rankCount: ranks.length };
}
