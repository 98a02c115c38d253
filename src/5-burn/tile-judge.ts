import type { KernelMemory } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";
import { bytesPerRow, type PackedBitmap } from "../core/packed-bits.js";
import type { Pitch } from "../core/plane.js";
import type { PackedRows } from "./exposure.js";
import type { ExposurePlan } from "./exposure-plan.js";
import type { Viewing } from "./eye-filter.js";
import { type Piece, reachOf } from "./pieces.js";
import { FLAT_EXPOSURE, predictLuminance, type RoundExposure } from "./predict.js";
import type { SampledVisualError } from "./sampled-error.js";
import { VisualComparison } from "./visual-comparison.js";

/** A bitmap, and where in the picture its corner lies: the whole picture from (0, 0), or a part that holds `burned` of a piece. */
export interface PlacedBitmap {
  readonly bitmap: PackedBitmap;
  /** Column of the picture, a multiple of 8. */
  readonly left: number;
  readonly top: number;
  /** Whether its last column and its first are neighbours. */
  readonly closed?: boolean;
}

/** How a bitmap that is judged is burned. */
export interface JudgedExposure {
  readonly plan: ExposurePlan;
  /** Multiples of the nominal dose. */
  readonly doses: readonly number[];
}

/**
 * Predicts pieces of a picture and judges them, one at a time: no plane larger than a piece is held. Over all pieces it
 * gives the visual errors of the whole, over a sample of them an estimate.
 */
export class PieceJudge {
  private readonly comparison: VisualComparison;
  /** Predicted luminance factors of the burned columns of the rows seen, for each dose of each bitmap. */
  private readonly planes: readonly (readonly Float32Array[])[];

  /**
   * @param exposures one for each bitmap that is judged
   * @param sidePx see `Pieces`
   * @param doseOfRow see `RoundExposure`
   */
  constructor(
    private readonly memory: KernelMemory,
    private readonly exposures: readonly JudgedExposure[],
    private readonly response: Response,
    pitch: Pitch,
    viewing: Viewing,
    sidePx: number,
    private readonly doseOfRow: RoundExposure["doseOfRow"] = FLAT_EXPOSURE.doseOfRow,
  ) {
    const predictions = exposures.flatMap(({ doses }) => doses).length;
    this.comparison = new VisualComparison(memory, sidePx, pitch, viewing, predictions);
    const mostBurned = sidePx + 2 * reachOf(...exposures.map(({ plan }) => plan)).alongPx + 16;
    this.planes = exposures.map(({ doses }) => doses.map(() => new Float32Array(sidePx * mostBurned)));
  }

  /**
   * @param wanted luminance factors of `piece.seen`, row-major
   * @param bitmaps as many as exposures, each holding all of `piece.burned`
   */
  judge(piece: Piece, wanted: Float32Array, bitmaps: readonly PlacedBitmap[]): void {
    const { seen, burned } = piece;
    bitmaps.forEach((placed, b) => {
      const firstRow = seen.top - burned.top;
      predictLuminance(
        this.memory,
        this.exposures[b].plan,
        this.response,
        rowsOfPiece(placed, piece),
        burned.columns,
        burned.rows,
        firstRow,
        firstRow + seen.rows,
        this.exposures[b].doses,
        this.planes[b],
        // A piece brings its own neighbours along, from beyond the seam too.
        { closed: false, doseOfRow: (y) => this.doseOfRow(y + burned.top) },
      );
    });
    const from = seen.left - burned.left;
    const predicted = this.planes.flat().map((data) => ({ data, from, stride: burned.columns }));
    this.comparison.add(piece, { data: wanted, from: 0, stride: seen.columns }, predicted);
  }

  /** In the order of the doses, bitmap after bitmap. @param share part of the picture that was judged, see `Pieces` */
  errors(share: number): SampledVisualError[] {
    return this.comparison.errors(share);
  }
}

/** The burned rows of a piece, from its own top and left; a row that passes the seam is put together anew. */
function rowsOfPiece({ bitmap, left, top, closed }: PlacedBitmap, { burned }: Piece): PackedRows {
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
      row[i] = bytes[firstRow + y * stride + ((((first + i) % stride) + stride) % stride)];
    }
    return row;
  };
}
