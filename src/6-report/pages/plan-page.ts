import { densityWords, durationWords } from "../../core/words.js";
import type { Plan } from "../plan.js";
import { planColumns } from "../words/plan-columns.js";
import { jobWords, lensWords, nextNote } from "../words/plan-words.js";
import { escapeHtml, htmlPage, listHtml, tableHtml, termsHtml } from "./html-page.js";
import { planFigures } from "./plan-charts.js";

/**
 * A plan as one page to look at, mail or print: the answer, its pictures, the densities compared, and what to know before.
 *
 * @param next the command to go on with
 */
export async function planPage(plan: Plan, next?: string): Promise<string> {
  const { recommended, rows, lenses, notes, cautions, job, tool } = plan;
  const chosen = rows[recommended.row];
  const columns = planColumns(plan);
  const heads = columns.map(({ head, title, words }) => ({
    head: head.filter(Boolean).join(" "),
    title,
    ...(words && { words }),
  }));
  const answer = [
    `${densityWords(recommended.linesPerInch)} lines per inch`,
    durationWords(chosen.seconds),
    ...(lenses.length > 1 ? [lenses[chosen.lens].name] : []),
  ].join(" · ");
  const note = nextNote(plan);
  const body = [
    "<h1>Which line density is worth its time</h1>",
    `<p class="quiet">${escapeHtml(jobWords(plan))}.<br>${lenses.map((lens) => escapeHtml(`Spot ${lens.optics ? "at " : ""}${lensWords(lens)}`)).join("<br>")}</p>`,
    `<div class="answer"><strong>${escapeHtml(answer)}</strong>${recommended.meetsLimits ? "" : "<p>Not everything that was asked for can be met. This comes nearest.</p>"}<p>${escapeHtml(recommended.reason)}</p>${next === undefined ? "" : `<p>Next: <code>${escapeHtml(next)}</code></p>${note === undefined ? "" : `<p>${escapeHtml(note)}</p>`}`}</div>`,
    notes.length > 0
      ? `<section><h2>To know before</h2>${listHtml(notes.map(({ message }) => message))}</section>`
      : "",
    await planFigures(plan),
    `<section>${tableHtml(
      "The densities compared",
      heads,
      rows.map((row) => columns.map(({ cell }) => cell(row))),
      { row: recommended.row, word: "chosen" },
    )}</section>`,
    `<section><h2>What would change the choice</h2>${listHtml(recommended.whatWouldChangeIt)}</section>`,
    `<section><h2>What the columns mean</h2>${termsHtml(columns.map(({ head, title }) => [head.filter(Boolean).join(" "), title]))}</section>`,
    `<section class="small"><h2>Cautions</h2>${listHtml(cautions)}</section>`,
    `<p class="small">${escapeHtml(`${tool.name} ${tool.version}. ${job.material}: ${job.materialSource}.`)}</p>`,
  ];
  return htmlPage(`Line density for ${job.material}`, body.filter(Boolean).join("\n"));
}
