import type { Report, Warning } from "../6-report/report.js";
import type { PieceVerdict } from "./entry.js";
import type { Finding } from "./triage/findings.js";
import type { Triage } from "./triage/triage.js";
import { messages } from "./triage/words.js";

/** What the triage of an upload and the report on its piece say together. */
export function pieceVerdict(triage: Triage, { job, runTime, prediction, warnings }: Report): PieceVerdict {
  return {
    findings: [...findingsOf(warnings), ...triage.findings],
    figures: {
      ...triage.figures,
      widthMm: job.widthMm,
      heightMm: job.heightMm,
      linesPerInch: job.linesPerInch,
      method: job.method,
      material: job.material,
      seconds: runTime.seconds,
      ...(prediction && { visualErrorRms: prediction.visualErrorRms }),
    },
    warnings: warnings.filter(({ code }) => !code.startsWith("material-")),
  };
}

/** What only the prepared piece shows. */
export function findingsOf(warnings: readonly Pick<Warning, "code">[]): Finding[] {
  const has = (...codes: readonly Warning["code"][]): boolean =>
    warnings.some(({ code }) => codes.includes(code));
  if (has("nothing-burns")) return [messages.nothingBurns()];
  return has("grey-areas", "not-as-drawn") ? [messages.shadesLost()] : [];
}
