import type { PlanRow } from "../../6-report/plan.js";
import type { Change } from "../../6-report/words/plan-changes.js";
import type { Note } from "../../6-report/words/plan-notes.js";
import type { Reason } from "../../6-report/words/plan-reasons.js";
import type { Material } from "../../core/material/material.js";
import type { Spread } from "../../core/spread.js";
import type { CheckedPlanOptions, PlanLens } from "../../options/plan-options.js";
import type { WorthCurve } from "./useful-tones.js";

/** The rows of one lens, by rising density, and the limits of the choice among them. */
export interface Candidates {
  readonly spread: Spread;
  readonly lens: PlanLens;
  readonly material: Material;
  readonly options: CheckedPlanOptions;
  readonly rows: readonly PlanRow[];
}

/** The rows of a photo, and what density is worth with their lens. */
export interface PhotoCandidates extends Candidates {
  /** Absent if there is only one density, and so nothing to compare. */
  readonly worth: WorthCurve | undefined;
}

/** The chosen row and the reasons, not yet in words. */
export interface Choice {
  readonly row: PlanRow;
  readonly meetsLimits: boolean;
  readonly reasons: readonly Reason[];
  readonly changes: readonly Change[];
  readonly notes: readonly Note[];
}

/** Rows within the time limit; all rows without a limit. */
export function withinTime(rows: readonly PlanRow[], { minutes }: CheckedPlanOptions): PlanRow[] {
  return rows.filter(({ seconds }) => minutes === undefined || seconds <= 60 * minutes);
}

/** The first row with the minimum of something. */
export function minBy(rows: readonly PlanRow[], of: (row: PlanRow) => number): PlanRow {
  return rows.reduce((best, row) => (of(row) < of(best) ? row : best));
}
