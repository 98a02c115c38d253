import type { PlanRow } from "../../6-report/plan.js";
import type { Change } from "../../6-report/words/plan-changes.js";
import type { Note } from "../../6-report/words/plan-notes.js";
import type { Reason } from "../../6-report/words/plan-reasons.js";
import type { Material } from "../../core/material/material.js";
import type { CheckedPlanOptions, PlanLens } from "../../options/plan-options.js";

/** The rows of one lens, by rising density, and what the choice among them must keep to. */
export interface Candidates {
  readonly lens: PlanLens;
  readonly material: Material;
  readonly options: CheckedPlanOptions;
  readonly rows: readonly PlanRow[];
}

/** One row picked, and why: not in words yet. */
export interface Choice {
  readonly row: PlanRow;
  readonly meetsLimits: boolean;
  readonly reasons: readonly Reason[];
  readonly changes: readonly Change[];
  readonly notes: readonly Note[];
}

/** Rows that keep to the time allowed; all of them where none was set. */
export function withinTime(rows: readonly PlanRow[], { minutes }: CheckedPlanOptions): PlanRow[] {
  return rows.filter(({ seconds }) => minutes === undefined || seconds <= 60 * minutes);
}

/** The first of the rows with the least of something. */
export function leastBy(rows: readonly PlanRow[], of: (row: PlanRow) => number): PlanRow {
  return rows.reduce((best, row) => (of(row) < of(best) ? row : best));
}
