import type { KernelMemory } from "../core/kernel-memory.js";
import { BAND_ROWS, EyeFilter, type SeenGrid } from "./eye-filter.js";
import { seeMirrored } from "./eye-planes.js";
import type { FieldBlocks } from "./field-blocks.js";
import { HALO_PX, type JudgedTile } from "./judged-tiles.js";
import { lightnessRow, subtractRow } from "./lightness-kernels.js";
import { mirrored, type StridedPlane } from "./mirrored-rows.js";
import { PartSums, type TileSums } from "./tile-sums.js";

/** A plane to compare within a tile: `from` is the index of the first value in `seen` of the tile. */
export type SeenPlane = StridedPlane;

/** Predictions at two doses, from which slopes are taken. */
export interface SlopeRuns {
  /** Place of the first of them, odd; the other is next. Their products with each other and with prediction 0 are summed too. */
  readonly pair: number;
  readonly blocks?: FieldBlocks | undefined;
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
  /** Errors of the first prediction, for products with those of the slope's pair. */
  private readonly firstErrors: Float32Array;
  private readonly rows: { readonly first: Float32Array; readonly second: Float32Array };
  private readonly judged: TileSums[] = [];

  /**
   * @param sidePx side of the filtered square; it holds the core of a tile and a halo on every side
   */
  constructor(
    grid: SeenGrid,
    readonly sidePx: number,
    private readonly slope?: SlopeRuns,
  ) {
    const { memory } = grid;
    const corePx = sidePx - 2 * HALO_PX;
    this.memory = memory;
    this.eye = new EyeFilter(grid, sidePx);
    this.wantedLightness = memory.float32(corePx * corePx);
    this.firstErrors = memory.float32(slope === undefined ? 0 : corePx * corePx);
    this.rows = { first: memory.float32(corePx), second: memory.float32(corePx) };
  }

  add(tile: JudgedTile, wanted: SeenPlane, predictions: readonly SeenPlane[]): void {
    const { core } = tile;
    const { columns } = core;
    const release = this.memory.mark();
    const parts = tile.parts.map((part) => new PartSums(this.memory, part, predictions.length));
    const { first: here, second: other } = this.rows;
    const at = (row: number): { readonly wanted: Float32Array; readonly first: Float32Array } => ({
      wanted: this.rowOf(this.wantedLightness, row, columns),
      first: this.rowOf(this.firstErrors, row, columns),
    });
    this.see(tile, wanted, predictions[0], (row, first, second) => {
      const kept = at(row);
      lightnessRow(this.memory, first, kept.wanted, columns);
      const errors = this.slope === undefined ? here : kept.first;
      this.errorsOf(second, kept.wanted, errors);
      for (const part of parts) {
        part.addWanted(row, kept.wanted);
        part.addErrors(row, 0, errors, kept.wanted);
      }
    });
    for (let k = 1; k < predictions.length; k += 2) {
      const both = k + 1 < predictions.length;
      this.see(tile, predictions[k], predictions[both ? k + 1 : k], (row, first, second) => {
        const kept = at(row);
        this.errorsOf(first, kept.wanted, here);
        if (both) this.errorsOf(second, kept.wanted, other);
        for (const part of parts) {
          part.addErrors(row, k, here, kept.wanted);
          if (both) part.addErrors(row, k + 1, other, kept.wanted);
        }
        if (k !== this.slope?.pair) return;
        for (const part of parts) part.addCross(row, kept.first, here, other);
        this.slope.blocks?.addRow(core.top + row, core.left, kept.wanted, [kept.first, here, other]);
      });
    }
    this.judged.push(...parts.map((part) => part.totals()));
    release();
  }

  /** Sums over all tiles so far. */
  sums(): readonly TileSums[] {
    return this.judged;
  }

  private rowOf(plane: Float32Array, row: number, columns: number): Float32Array {
    const from = row * (this.sidePx - 2 * HALO_PX);
    return plane.subarray(from, from + columns);
  }

  private errorsOf(luminance: Float32Array, wanted: Float32Array, out: Float32Array): void {
    lightnessRow(this.memory, luminance, out, wanted.length);
    subtractRow(this.memory, out, wanted, out, wanted.length);
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
    seeMirrored(eye, [first, second], fromX, fromY);
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
