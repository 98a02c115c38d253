import type { Warning } from "../../6-report/report.js";
import { messages } from "./words.js";

/** How an upload may be treated: as it is, with a remark, or after a word with the customer. */
export type Grade = "ready" | "note" | "ask";

/** What a finding is about. Codes stay; sentences may change. */
export type FindingCode =
  | "DAMAGED"
  | "TOO_FEW_PIXELS"
  | "BLURRED"
  | "CLIPPED_HIGHLIGHTS"
  | "CLIPPED_SHADOWS"
  | "LOW_CONTRAST"
  | "JPEG_BLOCKS"
  | "ALREADY_DITHERED"
  | "SCREENSHOT"
  | "ARTWORK"
  | "TRANSPARENT"
  | "MANY_PAGES"
  | "CROPPED"
  | "STRETCHED"
  | "EXTREME_SHAPE"
  | "NOTHING_BURNS"
  | "SHADES_LOST";

/** One thing about an upload that somebody should know. */
export interface Finding {
  readonly code: FindingCode;
  readonly grade: "note" | "ask";
  /** In words that can be sent to the customer as they are. */
  readonly message: string;
}

/** What only the prepared piece shows. */
export function findingsOf(warnings: readonly Pick<Warning, "code">[]): Finding[] {
  const has = (...codes: readonly Warning["code"][]): boolean =>
    warnings.some(({ code }) => codes.includes(code));
  if (has("nothing-burns")) return [messages.nothingBurns()];
  return has("grey-areas", "not-as-drawn") ? [messages.shadesLost()] : [];
}

/** The grade of an upload with these findings: the worst. */
export function gradeOf(findings: readonly Finding[]): Grade {
  if (findings.some(({ grade }) => grade === "ask")) return "ask";
  return findings.length > 0 ? "note" : "ready";
}
