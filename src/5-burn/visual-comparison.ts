import type { KernelMemory } from "../core/kernel-memory.js";
import { modulo } from "../core/modulo.js";
import { BAND_ROWS, EyeFilter, type SeenGrid } from "./eye-filter.js";
import { HALO_PX, type JudgedTile } from "./judged-tiles.js";
import { addDifferences, differenceSums, lightnessRow, totalsOf } from "./lightness-kernels.js";
import { type SampledVisualError, type TileSums, visualErrorOf } from "./sampled-error.js";

/** A plane to compare within a tile. `from` is the index of the first value in `seen` of the tile. */
export interface SeenPlane {
  readonly data: Float32Array;
  readonly from: number;
  /** Values from one row to the next. */
  readonly stride: number;
}

/**
 * Compares predictions with the wanted picture, tile by tile, as the eye sees them: filtered, converted to L*, subtracted.
 *
 * Beyond `seen`, a tile is extended by mirror images. The picture beyond the halo affects the core only through the faint far glare
 * of the eye, in prediction and target alike.
 */
export class VisualComparison {
  private readonly memory: KernelMemory;
  private readonly eye: EyeFilter;
  private readonly wantedLightness: Float32Array;
  private readonly lightness: Float32Array;
  private readonly sums: readonly Float64Array[];
  private readonly judged: TileSums[][];

  /**
   * @param sidePx side of the filtered square; it holds the core of a tile and a halo on every side
   * @param predictions number of predictions compared at once
   */
  constructor(
    grid: SeenGrid,
    readonly sidePx: number,
    predictions: number,
  ) {
    const { memory } = grid;
    const corePx = sidePx - 2 * HALO_PX;
    this.memory = memory;
    this.eye = new EyeFilter(grid, sidePx);
    this.wantedLightness = memory.float32(corePx * corePx);
    this.lightness = memory.float32(corePx);
    this.sums = Array.from({ length: predictions }, () => differenceSums(memory));
    this.judged = Array.from({ length: predictions }, () => []);
  }

  /** @param predictions as many as in the constructor */
  add(tile: JudgedTile, wanted: SeenPlane, predictions: readonly SeenPlane[]): void {
    const { core } = tile;
    for (const sums of this.sums) sums.fill(0);
    this.see(tile, wanted, predictions[0], (row, first, second) => {
      const kept = this.wantedRow(row, core.columns);
      lightnessRow(this.memory, first, kept, core.columns);
      this.addRow(0, second, kept);
    });
    for (let k = 1; k < predictions.length; k += 2) {
      const both = k + 1 < predictions.length;
      this.see(tile, predictions[k], predictions[both ? k + 1 : k], (row, first, second) => {
        const kept = this.wantedRow(row, core.columns);
        this.addRow(k, first, kept);
        if (both) this.addRow(k + 1, second, kept);
      });
    }
    const pixels = core.columns * core.rows;
    this.sums.forEach((sums, k) => {
      this.judged[k].push({ pixels, ...totalsOf(sums) });
    });
  }

  /** Errors over all tiles so far, in the order of the predictions. @param share see `JudgedTiles` */
  errors(share: number): SampledVisualError[] {
    return this.judged.map((tiles) => visualErrorOf(tiles, share));
  }

  private wantedRow(row: number, columns: number): Float32Array {
    const from = row * (this.sidePx - 2 * HALO_PX);
    return this.wantedLightness.subarray(from, from + columns);
  }

  private addRow(k: number, luminance: Float32Array, wanted: Float32Array): void {
    lightnessRow(this.memory, luminance, this.lightness, wanted.length);
    addDifferences(this.memory, this.lightness, wanted, wanted.length, this.sums[k]);
  }

  /** Filters two planes and passes the rows of the core to `visit`. */
  private see(
    { core, seen }: JudgedTile,
    first: SeenPlane,
    second: SeenPlane,
    visit: (row: number, first: Float32Array, second: Float32Array) => void,
  ): void {
    const { eye, sidePx } = this;
    const fromX = mirrored(core.left - seen.left - HALO_PX, seen.columns, sidePx);
    const fromY = mirrored(core.top - seen.top - HALO_PX, seen.rows, sidePx);
    for (let y = 0; y < sidePx; y += BAND_ROWS) {
      for (let row = 0; row < BAND_ROWS; row++) {
        copyRow(first, fromY.index[y + row], fromX, eye.first, row * sidePx);
        copyRow(second, fromY.index[y + row], fromX, eye.second, row * sidePx);
      }
      eye.enter(y);
    }
    eye.filter();
    for (let y = HALO_PX; y < HALO_PX + core.rows; y += BAND_ROWS) {
      eye.leave(y);
      for (let row = 0; row < Math.min(BAND_ROWS, HALO_PX + core.rows - y); row++) {
        const from = row * sidePx + HALO_PX;
        visit(
          y + row - HALO_PX,
          eye.first.subarray(from, from + core.columns),
          eye.second.subarray(from, from + core.columns),
        );
      }
    }
  }
}

/** Sources of `count` neighbours in a row that is extended by its mirror images (the edge sample twice). */
interface Mirrored {
  /** Index in the row, 0..length−1, of each. */
  readonly index: Int32Array;
  /** Places `from` to `end` are inside the row, in sequence. */
  readonly from: number;
  readonly end: number;
}

function mirrored(first: number, length: number, count: number): Mirrored {
  const period = 2 * length;
  const index = Int32Array.from({ length: count }, (_, i) => {
    const folded = modulo(first + i, period);
    return folded < length ? folded : period - 1 - folded;
  });
  return { index, from: -first, end: Math.min(count, length - first) };
}

function copyRow(
  { data, from, stride }: SeenPlane,
  y: number,
  x: Mirrored,
  out: Float32Array,
  to: number,
): void {
  const row = from + y * stride;
  const within = row + x.index[x.from];
  for (let i = 0; i < x.from; i++) out[to + i] = data[row + x.index[i]];
  out.set(data.subarray(within, within + x.end - x.from), to + x.from);
  for (let i = x.end; i < x.index.length; i++) out[to + i] = data[row + x.index[i]];
}
