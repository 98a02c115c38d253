import { clusteredScreen } from "../../4-halftone/clustered-dot.js";
import type { ReportScreen } from "../../6-report/report.js";
import type { ScreenFacts } from "../../6-report/words/warnings.js";
import { byToneRange } from "../../core/material/tone-range.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { SCREEN_PERIOD_SPOTS } from "../../options/table/halftone.js";
import { halftoneSettings } from "../job.js";
import type { MadePiece } from "../made-piece.js";

type Screened = Pick<MadePiece, "job" | "method" | "edges">;

const screenOf = ({ job, method, edges }: Screened) =>
  method.id === "clustered-dot" && !edges ? clusteredScreen(halftoneSettings(job)) : undefined;

/** Ruling and angle of a clustered-dot screen as they come out on the grid; undefined for other methods. */
export function describeScreen(piece: Screened): ReportScreen | undefined {
  const screen = screenOf(piece);
  return screen && { linesPerInch: screen.linesPerInch, angleDeg: screen.angleDeg };
}

/** Pixels of a cell that hold a dot. */
const ENOUGH_CELL_PX = 4;

/** What warnings say about the screen. */
export function screenFacts(piece: Screened): ScreenFacts | undefined {
  const screen = screenOf(piece);
  if (!screen) return undefined;
  const { pitch, spot, material, screenLinesPerInch } = piece.job.options;
  const spotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  const pixelMm = Math.sqrt(pitch.alongMm * pitch.acrossMm);
  const periodMm = linesPerInchFromPitchMm(screenLinesPerInch);
  const usualMm = byToneRange(material.toneRange, SCREEN_PERIOD_SPOTS) * spotMm;
  return {
    askedLinesPerInch: screenLinesPerInch,
    usualLinesPerInch: linesPerInchFromPitchMm(usualMm),
    fittingLinesPerInch: linesPerInchFromPitchMm(Math.max(usualMm, Math.sqrt(ENOUGH_CELL_PX) * pixelMm)),
    cellPx: (periodMm / pixelMm) ** 2,
    periodSpots: periodMm / spotMm,
    isDispersed: screen.isDispersed,
  };
}
