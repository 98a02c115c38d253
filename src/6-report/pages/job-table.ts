import { coverageFacts, detailFacts, machineFacts, spotFacts } from "./facts/beam-facts.js";
import type { FactGroup, FactSource, ToldFact } from "./facts/fact-group.js";
import { aroundFacts, pictureFacts, pieceFacts, renderingFacts } from "./facts/piece-facts.js";
import { edgeFacts, predictionFacts } from "./facts/result-facts.js";
import { escapeHtml } from "./html-page.js";

const groups: readonly FactGroup[] = [
  pictureFacts,
  pieceFacts,
  aroundFacts,
  renderingFacts,
  edgeFacts,
  spotFacts,
  coverageFacts,
  predictionFacts,
  detailFacts,
  machineFacts,
];

/** All facts about the job, in tables that a narrow window stacks. */
export function jobTableHtml(from: FactSource): string {
  const tables = groups.map(({ title, tell }) => {
    const lines = tell(from).map(lineHtml);
    return lines.length === 0
      ? ""
      : `<table class="facts"><caption>${escapeHtml(title)}</caption><tbody>${lines.join("\n")}</tbody></table>`;
  });
  return `<section><h2>The job in full</h2><div class="columns">${tables.filter(Boolean).join("\n")}</div></section>`;
}

const lineHtml = ({ name, value, note }: ToldFact): string =>
  `<tr><th scope="row">${escapeHtml(name)}</th><td>${escapeHtml(value)}${note ? ` <small>${escapeHtml(note)}</small>` : ""}</td></tr>`;
