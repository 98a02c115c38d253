import type { Comparison } from "../comparison.js";
import type { Plan } from "../plan.js";
import type { Report } from "../report.js";

/** More digits than any figure of a model deserves, few enough to read. */
const SIGNIFICANT_DIGITS = 6;

/** A report or a plan as its file holds it: indented, counts whole, all else rounded to six significant digits. */
export function reportJson(report: Comparison | Report | Plan): string {
  return `${JSON.stringify(report, rounded, 2)}\n`;
}

function rounded(_key: string, value: unknown): unknown {
  if (typeof value !== "number" || Number.isInteger(value)) return value;
  return Number(value.toPrecision(SIGNIFICANT_DIGITS));
}
