import type { KernelMemory } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";
import { modulo } from "../core/modulo.js";
import { bytesPerRow, type PackedBitmap } from "../core/packed-bits.js";
import type { ExposurePlan } from "./exposure-plan.js";
import type { SeenGrid } from "./eye-filter.js";
import { type JudgedTile, reachOf } from "./judged-tiles.js";
import { FLAT_EXPOSURE, predictLuminance, type RoundExposure } from "./predict.js";
import type { TileSums } from "./tile-sums.js";
import { type SlopeRuns, VisualComparison } from "./visual-comparison.js";

/** A bitmap and the place of its corner in the picture: the whole picture at (0, 0), or a part that holds `burned` of a tile. */
export interface PlacedBitmap {
  readonly bitmap: PackedBitmap;
  /** Column of the picture, a multiple of 8. */
  readonly left: number;
  readonly top: number;
  /** Whether its last column is a neighbour of the first. */
  readonly closed?: boolean;
}

/** Exposure of a judged bitmap. */
export interface JudgedExposure {
  readonly plan: ExposurePlan;
  /** Multiples of the nominal dose. */
  readonly doses: readonly number[];
}

/** The surface under a bitmap, and its viewing conditions. */
export interface JudgedSurface extends SeenGrid {
  readonly response: Response;
  /** See `RoundExposure`. Default: 1 for every row. */
  readonly doseOfRow?: RoundExposure["doseOfRow"];
}

/**
 * Predicts and judges tiles of a picture, one at a time: memory holds no plane larger than a tile. All tiles give the visual
 * errors of the whole picture, a sample of tiles gives an estimate.
 */
export class TileJudge {
  private readonly comparison: VisualComparison;
  private readonly memory: KernelMemory;
  private readonly response: Response;
  private readonly doseOfRow: RoundExposure["doseOfRow"];
  /** Predicted luminance factors of the burned columns of the rows seen, for each dose of each bitmap. */
  private readonly planes: readonly (readonly Float32Array[])[];

  /**
   * @param exposures one for each judged bitmap
   * @param sidePx see `JudgedTiles`
   * @param slope see `VisualComparison`
   */
  constructor(
    surface: JudgedSurface,
    private readonly exposures: readonly JudgedExposure[],
    sidePx: number,
    slope?: SlopeRuns,
  ) {
    const { memory, response, doseOfRow = FLAT_EXPOSURE.doseOfRow } = surface;
    this.memory = memory;
    this.response = response;
    this.doseOfRow = doseOfRow;
    this.comparison = new VisualComparison(surface, sidePx, slope);
    const maxBurned = sidePx + 2 * reachOf(...exposures.map(({ plan }) => plan)).alongPx + 16;
    this.planes = exposures.map(({ doses }) => doses.map(() => new Float32Array(sidePx * maxBurned)));
  }

  /**
   * @param wanted luminance factors of `tile.seen`, row-major
   * @param bitmaps each holding all of `tile.burned`: as many as exposures, or fewer if the last exposures are not wanted here
   */
  judge(tile: JudgedTile, wanted: Float32Array, bitmaps: readonly PlacedBitmap[]): void {
    const { memory, response } = this;
    const { seen, burned } = tile;
    const firstRow = seen.top - burned.top;
    const range = { firstRow, endRow: firstRow + seen.rows };
    const doseOfRow = (y: number): number => this.doseOfRow(y + burned.top);
    bitmaps.forEach((placed, b) => {
      const { plan, doses } = this.exposures[b];
      // A tile contains its neighbours, also from beyond the seam.
      const rows = { columns: burned.columns, rows: burned.rows, row: rowsOfTile(placed, tile) };
      predictLuminance(
        { plan, response, memory },
        rows,
        range,
        { factors: doses, doseOfRow },
        this.planes[b],
      );
    });
    const from = seen.left - burned.left;
    const predicted = this.planes
      .slice(0, bitmaps.length)
      .flat()
      .map((data) => ({ data, from, stride: burned.columns }));
    this.comparison.add(tile, { data: wanted, from: 0, stride: seen.columns }, predicted);
  }

  /** Sums over the tiles so far. Predictions are in the order of the doses, bitmap after bitmap. */
  sums(): readonly TileSums[] {
    return this.comparison.sums();
  }
}

/** The burned rows of a tile, from its top left corner. A row across the seam is assembled. */
function rowsOfTile(
  { bitmap, left, top, closed }: PlacedBitmap,
  { burned }: JudgedTile,
): (y: number) => Uint8Array {
  const { bytes, stride, levels } = bitmap;
  const firstRow = (burned.top - top) * stride;
  const offset = burned.left - left;
  const first = levels === 2 ? offset / 8 : offset;
  const length = bytesPerRow(burned.columns, levels);
  if (!closed)
    return (y) => bytes.subarray(firstRow + first + y * stride, firstRow + first + y * stride + length);
  const row = new Uint8Array(length);
  return (y) => {
    for (let i = 0; i < length; i++) {
      row[i] = bytes[firstRow + y * stride + modulo(first + i, stride)];
    }
    return row;
  };
}
