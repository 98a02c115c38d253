import { visible } from "../../core/words.js";
import type { Verdict } from "./pass.js";

/** What a person wants to know of a batch: the counts, then each upload that needs attention. */
export function batchSummary(verdicts: readonly Verdict[], out: string): string {
  const count = (is: (verdict: Verdict) => boolean): number => verdicts.filter(is).length;
  const refused = verdicts.filter(({ entry }) => entry.state === "refused");
  const ask = verdicts.filter(({ entry }) => entry.state === "prepared" && entry.grade === "ask");
  const kept = count(({ kept }) => kept);
  const lines = [
    `uploads       ${verdicts.length}: ${verdicts.length - refused.length} prepared, ${refused.length} refused${kept > 0 ? `; ${kept} unchanged since an earlier run` : ""}`,
    `grades        ${count(({ entry }) => entry.grade === "ready")} ready, ${count(({ entry }) => entry.grade === "note")} with a note, ${ask.length} to ask about`,
    ...ask.map(
      ({ entry }) =>
        `ask           ${visible(entry.file)}: ${entry.findings.map(({ code }) => code).join(", ")}`,
    ),
    ...refused.map(({ entry }) => `refused       ${entry.code}: ${visible(entry.message)}`),
    `open          ${out}/index.html`,
  ];
  return `${lines.join("\n")}\n`;
}
