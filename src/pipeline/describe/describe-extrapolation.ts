import { shareAbove } from "../../5-burn/dose-share.js";
import type { WarningFacts } from "../../6-report/words/warnings.js";
import { extrapolationOf } from "../../core/material/extrapolation.js";
import { rowsOfBitmap } from "../../core/packed-bits.js";
import { NOT_NOTICEABLE } from "../../core/physics/lightness.js";
import type { MadePiece } from "../made-piece.js";
import { roundExposure } from "../photo/round-piece.js";

/** How far a piece goes beyond the end of its material's response. The bitmap is looked at only if that can be seen. */
export function describeExtrapolation({ job, burned, picture }: MadePiece): WarningFacts["extrapolation"] {
  const { model, memory, options } = job;
  const { pitch, spot, material } = options;
  const found = extrapolationOf(model.response, pitch.acrossMm / spot.acrossMm, material.lineExponent);
  if (!found || !burned.bitmap || found.lightness <= NOT_NOTICEABLE) return found;
  const round = roundExposure(picture.frame);
  const bitmap = rowsOfBitmap(burned.bitmap, round.closed);
  return { ...found, share: shareAbove({ plan: model.plan, memory }, bitmap, found.lastDose, round) };
}
