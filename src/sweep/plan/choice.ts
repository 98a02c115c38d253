import type { PlanNote, PlanRow } from "../../6-report/plan.js";
import type { Material } from "../../core/material/material.js";
import { densityWords } from "../../core/words.js";
import type { CheckedPlanOptions, PlanLens } from "../../options/plan-options.js";

/** The rows of one lens, by rising density, and what the choice among them must keep to. */
export interface Candidates {
  readonly lens: PlanLens;
  readonly material: Material;
  readonly options: CheckedPlanOptions;
  readonly rows: readonly PlanRow[];
}

/** One row picked, and why. */
export interface Choice {
  readonly row: PlanRow;
  readonly meetsLimits: boolean;
  /** Sentences. */
  readonly reason: string;
  readonly whatWouldChangeIt: readonly string[];
  readonly notes: readonly PlanNote[];
}

export const linesOf = ({ linesPerInch }: PlanRow): string => `${densityWords(linesPerInch)} lines per inch`;

/** Rows that keep to the time allowed; all of them where none was set. */
export function withinTime(rows: readonly PlanRow[], { minutes }: CheckedPlanOptions): PlanRow[] {
  return rows.filter(({ seconds }) => minutes === undefined || seconds <= 60 * minutes);
}

/** The first of the rows with the least of something. */
export function leastBy(rows: readonly PlanRow[], of: (row: PlanRow) => number): PlanRow {
  return rows.reduce((best, row) => (of(row) < of(best) ? row : best));
}

/** `2.67 times`, to three digits. */
export const timesWords = (ratio: number): string => `${Number(ratio.toPrecision(2))} times`;
