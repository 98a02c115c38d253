import type { Frame } from "../../3-resample/frame.js";
import type { FractionRows } from "../../5-burn/compensate.js";
import { evenDoseRows } from "../../5-burn/even-dose.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { BurnModel } from "../job.js";
import { type FramedPhoto, luminanceRows } from "../photo/luminance.js";
import { roundExposure } from "../photo/round-piece.js";
import { type Burner, burnRows } from "./burn-rows.js";
import { type BurnStage, bandRowsFor } from "./burn-stage.js";

/** Takes burn fractions band by band: `BurnStage`, or a halftone alone. */
export type BandTaker = Pick<BurnStage, "room" | "band">;

/**
 * Burn fractions of the whole piece, from the photo, to what halftones them.
 *
 * @param watch sees the photo's luminance codes, row by row, top to bottom
 */
export async function halftonePiece(
  memory: KernelMemory,
  model: BurnModel,
  burner: Burner,
  framed: FramedPhoto,
  options: ResolvedOptions,
  stage: BandTaker,
  watch: (codes: Uint16Array) => void = () => {},
): Promise<void> {
  const { columns, rows } = framed.frame;
  const release = memory.mark();
  const luminance = luminanceRows(framed, options, memory);
  const codes = (y: number): Uint16Array => {
    const row = luminance(y);
    watch(row);
    return row;
  };
  const { doseOfRow } = roundExposure(options, rows);
  const asked = burnRows(memory, model, burner, codes, columns, rows, options);
  const fractions = burner.balanced ? evenDoseRows(asked, doseOfRow) : asked;
  await burnBands(fractions, framed.frame, stage);
  release();
}

/** Burn fractions of the whole piece to what halftones them, band by band. */
export async function burnBands(
  fractions: FractionRows,
  { columns, rows }: Frame,
  stage: BandTaker,
): Promise<void> {
  const bandRows = bandRowsFor(columns);
  for (let y = 0; y < rows; y += bandRows) {
    const count = Math.min(bandRows, rows - y);
    const room = await stage.room();
    for (let k = 0; k < count; k++) {
      fractions(y + k, room.subarray(k * columns, (k + 1) * columns));
    }
    await stage.band(count);
  }
}
