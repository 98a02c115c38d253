import type { Frame } from "../../3-resample/frame.js";
import type { FractionRows } from "../../5-burn/compensate.js";
import { evenDoseRows } from "../../5-burn/even-dose.js";
import type { Job } from "../job.js";
import { luminanceRows } from "../photo/luminance.js";
import type { PictureOnGrid } from "../photo/picture-rows.js";
import { roundExposure } from "../photo/round-piece.js";
import { type BurnRule, burnRows } from "./burn-rule.js";
import { type BurnStage, bandRowsFor } from "./burn-stage.js";

/**
 * Send the burn fractions of the whole piece to the burn stage.
 *
 * @param to.watch called with each row of the photo's luminance codes, top to bottom
 */
export async function halftonePiece(
  job: Job,
  picture: PictureOnGrid,
  rule: BurnRule,
  to: { readonly stage: BurnStage; readonly watch?: ((codes: Uint16Array) => void) | undefined },
): Promise<void> {
  const release = job.memory.mark();
  const luminance = luminanceRows(job, picture);
  const codes = (y: number): Uint16Array => {
    const row = luminance(y);
    to.watch?.(row);
    return row;
  };
  const { doseOfRow } = roundExposure(picture.frame);
  const asked = burnRows(job, rule, codes, picture.frame);
  const fractions = rule.balanced ? evenDoseRows(asked, doseOfRow) : asked;
  await burnBands(fractions, picture.frame, to.stage);
  release();
}

/** Send the burn fractions of the whole piece to the burn stage, band by band. */
export async function burnBands(
  fractions: FractionRows,
  { columns, rows }: Frame,
  stage: BurnStage,
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
