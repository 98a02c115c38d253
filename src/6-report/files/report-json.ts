import type { Calibration } from "../calibration.js";
import type { TestCard } from "../card.js";
import type { CheckCard, ToneCheck } from "../check.js";
import type { Comparison } from "../comparison.js";
import type { Plan } from "../plan.js";
import type { PowerTest } from "../power-test.js";
import type { Report } from "../report.js";

/** What is written as JSON. */
type Written = Calibration | CheckCard | Comparison | Plan | PowerTest | Report | TestCard | ToneCheck;

/** More digits than the model's precision, but few enough to read. */
const SIGNIFICANT_DIGITS = 6;

/** The text of a report's file, a plan's and so on: indented, whole numbers unchanged, all others rounded to six significant digits. */
export function reportJson(report: Written): string {
  return `${JSON.stringify(report, rounded, 2)}\n`;
}

function rounded(_key: string, value: unknown): unknown {
  if (typeof value !== "number" || Number.isInteger(value)) return value;
  return Number(value.toPrecision(SIGNIFICANT_DIGITS));
}
