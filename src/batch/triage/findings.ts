import type { Warning } from "../../6-report/report.js";
import { type Finding, finding } from "./words.js";

export type { Finding, FindingCode } from "./words.js";

/** How an upload may be treated: as it is, with a remark, or after a word with the customer. */
export type Grade = "ready" | "note" | "ask";

/** What only the prepared piece shows. */
export function findingsOf(warnings: readonly Pick<Warning, "code">[]): Finding[] {
  const has = (...codes: readonly Warning["code"][]): boolean =>
    warnings.some(({ code }) => codes.includes(code));
  if (has("nothing-burns")) return [finding("NOTHING_BURNS", { grade: "ask" })];
  return has("grey-areas", "not-as-drawn") ? [finding("SHADES_LOST", { grade: "note" })] : [];
}

/** The grade of an upload with these findings: the worst. */
export function gradeOf(findings: readonly Finding[]): Grade {
  if (findings.some(({ grade }) => grade === "ask")) return "ask";
  return findings.length > 0 ? "note" : "ready";
}
