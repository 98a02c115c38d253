import { generalCautions } from "../../core/material/cautions.js";
import type { Report } from "../report.js";
import { warningRules } from "../words/warnings.js";
import { escapeHtml } from "./html-page.js";
import { listHtml } from "./html-parts.js";
import { proseHtml } from "./prose-html.js";

/** All warnings, and beside them the cautions: those of the material, and folded those for every job. */
export function warningsHtml({ warnings, cautions, job }: Report): string {
  const items = warnings.map(
    ({ code, message }) =>
      `<li><strong>${escapeHtml(warningRules[code].title)}.</strong> ${proseHtml(message)}</li>`,
  );
  const own = cautions.filter((caution) => !generalCautions.includes(caution));
  const general = cautions.filter((caution) => generalCautions.includes(caution));
  return `<div class="pair advice">
<section id="warnings"><h2>Warnings</h2>${items.length > 0 ? `<ul class="warnings">${items.join("\n")}</ul>` : "<p>None.</p>"}</section>
<section><h2>Cautions</h2>${own.length > 0 ? `<p class="own"><strong>${escapeHtml(job.material)}:</strong> ${escapeHtml(own.join(" "))}</p>` : ""}<details class="folded"><summary>${general.length} cautions for every job</summary>${listHtml(general)}</details></section>
</div>`;
}

/** One line at the top of the page that points to warnings and cautions below. */
export function warningsInShort({ warnings }: Report): string {
  if (warnings.length === 0) return "";
  const titles = [...new Set(warnings.map(({ code }) => warningRules[code].title))].map((title, k) =>
    k === 0 ? title : title[0].toLowerCase() + title.slice(1),
  );
  return `<p class="alert"><a href="#warnings">${warnings.length === 1 ? "1 warning" : `${warnings.length} warnings`}</a>: ${escapeHtml(titles.join("; "))}.</p>`;
}
