import type { KernelMemory } from "../core/kernel-memory.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import { addProducts, type ProductSums, productSums, totalOf } from "./lightness-kernels.js";

/** A part of a tile's core that stands for a stratum of the picture. The rectangle counts from the corner of the core. */
export interface TilePart extends PixelRectangle {
  readonly stratum: number;
}

/** Sums of one prediction's errors e = L* predicted − L* wanted over a part of a tile. */
export interface ErrorSums {
  /** Σ e */
  readonly errors: number;
  /** Σ e² */
  readonly squares: number;
  /** Σ e · L* wanted */
  readonly withWanted: number;
}

/** Sums over a part of a tile. */
export interface TileSums {
  readonly stratum: number;
  readonly pixels: number;
  /** Σ L* wanted, and Σ of its squares. */
  readonly wanted: number;
  readonly wantedSquares: number;
  readonly predictions: readonly ErrorSums[];
  /** Of the slope's pair (see `VisualComparison`): Σ e₀e₋, Σ e₀e₊ and Σ e₋e₊. */
  readonly cross: readonly [firstUnder: number, firstOver: number, underOver: number];
}

/** Collects the sums of a part of a tile, row by row. */
export class PartSums {
  private readonly wanted: ProductSums;
  private readonly predictions: readonly { readonly own: ProductSums; readonly withWanted: ProductSums }[];
  private readonly cross: readonly [ProductSums, ProductSums, ProductSums];

  constructor(
    private readonly memory: KernelMemory,
    private readonly part: TilePart,
    predictions: number,
  ) {
    const sums = (): ProductSums => productSums(memory);
    this.wanted = sums();
    this.predictions = Array.from({ length: predictions }, () => ({ own: sums(), withWanted: sums() }));
    this.cross = [sums(), sums(), sums()];
  }

  addWanted(row: number, wanted: Float32Array): void {
    this.add(row, wanted, wanted, this.wanted);
  }

  addErrors(row: number, prediction: number, errors: Float32Array, wanted: Float32Array): void {
    const { own, withWanted } = this.predictions[prediction];
    this.add(row, errors, errors, own);
    this.add(row, errors, wanted, withWanted);
  }

  addCross(row: number, first: Float32Array, under: Float32Array, over: Float32Array): void {
    this.add(row, first, under, this.cross[0]);
    this.add(row, first, over, this.cross[1]);
    this.add(row, under, over, this.cross[2]);
  }

  totals(): TileSums {
    const { part, wanted, predictions, cross } = this;
    const product = ({ products }: ProductSums): number => totalOf(products);
    return {
      stratum: part.stratum,
      pixels: part.columns * part.rows,
      wanted: totalOf(wanted.values),
      wantedSquares: product(wanted),
      predictions: predictions.map(({ own, withWanted }) => ({
        errors: totalOf(own.values),
        squares: product(own),
        withWanted: product(withWanted),
      })),
      cross: [product(cross[0]), product(cross[1]), product(cross[2])],
    };
  }

  private add(row: number, a: Float32Array, b: Float32Array, sums: ProductSums): void {
    const { left, top, columns, rows } = this.part;
    if (row < top || row >= top + rows) return;
    const end = left + columns;
    addProducts(this.memory, a.subarray(left, end), b.subarray(left, end), columns, sums);
  }
}
