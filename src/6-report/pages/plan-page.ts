import { libraryReader, type Reader } from "../../core/reader.js";
import { densityWords, durationWords } from "../../core/words.js";
import type { DetailPicture } from "../pictures/detail-picture.js";
import type { Plan } from "../plan.js";
import { timeNote } from "../words/pace-words.js";
import { errorColumns, errorParts, type PlanColumn, planColumns } from "../words/plan-columns.js";
import { jobWords, lensWords, nextNote } from "../words/plan-words.js";
import { pageStyle } from "./browser-files.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import { headHtml, listHtml, tableHtml, termsHtml } from "./html-parts.js";
import { planFigures } from "./plan-charts.js";
import { stripHtml } from "./plan-strip.js";
import { commandHtml, proseHtml } from "./prose-html.js";

/** What a plan's page shows beside the plan. */
export interface PlanPageContext {
  /** Of the same detail in each row. */
  readonly pictures?: readonly DetailPicture[];
  /** The command that finds the power, if it is not known. */
  readonly powerTest?: string | undefined;
  readonly reader?: Reader;
}

/**
 * A plan as one page to view, mail or print: the recommendation, its charts, the compared densities, and notes to read before
 * burning.
 *
 * @param next the command that prepares the job at the chosen density
 */
export async function planPage(
  plan: Plan,
  next?: string,
  { pictures = [], powerTest, reader = libraryReader }: PlanPageContext = {},
): Promise<string> {
  const { recommended, notes, cautions, job, tool } = plan;
  const columns = planColumns(plan);
  const inParts = errorColumns(plan);
  const explained = [...columns, ...(inParts.length > 0 ? errorParts : [])];
  const body = [
    headHtml("Which line density is worth its time", aboutHtml(plan, reader)),
    answerHtml(plan, next, powerTest),
    notes.length > 0
      ? `<section><h2>Notes</h2>${listHtml(notes.map(({ message }) => message))}</section>`
      : "",
    stripHtml(plan, pictures),
    await planFigures(plan),
    densitiesHtml(plan, "The densities compared", columns),
    densitiesHtml(plan, "The expected error in its two parts", inParts),
    `<section><h2>What would change the choice</h2>${listHtml(recommended.whatWouldChangeIt)}</section>`,
    `<section><h2>What the columns mean</h2>${termsHtml(explained.map((column) => [headOf(column), column.title]))}</section>`,
    `<section class="small"><h2>Cautions</h2>${listHtml(cautions)}</section>`,
    `<footer class="small"><p>${escapeHtml(`${tool.name} ${tool.version}. ${job.material}: ${job.materialSource}.`)}</p></footer>`,
  ];
  return htmlPage(`Line density for ${job.material}`, body.filter(Boolean).join("\n"), {
    style: pageStyle("plan-page"),
  });
}

/** A table with a row for each density; nothing without columns. */
function densitiesHtml({ rows, recommended }: Plan, caption: string, columns: readonly PlanColumn[]): string {
  if (columns.length === 0) return "";
  const table = tableHtml(
    caption,
    columns.map((column) => ({ head: headOf(column), words: column.words })),
    rows.map((row) => columns.map(({ cell }) => cell(row))),
    { row: recommended.row, word: "chosen" },
  );
  return `<section>${table}</section>`;
}

const headOf = ({ head }: PlanColumn): string => head.filter(Boolean).join(" ");

function aboutHtml(plan: Plan, reader: Reader): string {
  const lenses = plan.lenses.map((lens) =>
    escapeHtml(`Spot ${lens.optics ? "at " : ""}${lensWords(lens, plan, reader)}`),
  );
  return `${escapeHtml(jobWords(plan, reader))}.<br>${lenses.join("<br>")}`;
}

function answerHtml(plan: Plan, next: string | undefined, powerTest: string | undefined): string {
  const { recommended, rows, lenses, power } = plan;
  const chosen = rows[recommended.row];
  const answer = [
    `${densityWords(recommended.linesPerInch)} lines per inch`,
    `${durationWords(chosen.seconds)}${timeNote(plan.job)}`,
    ...(lenses.length > 1 ? [lenses[chosen.lens].name] : []),
  ].join(" · ");
  const note = next === undefined ? undefined : nextNote(plan);
  const lines = [
    ...(recommended.meetsLimits ? [] : ["No density meets all limits; this one comes nearest."]),
    recommended.reason,
    `Power: ${power.message}.`,
  ].map(proseHtml);
  if (powerTest !== undefined) lines.push(`Find the power: ${commandHtml(powerTest)}`);
  if (next !== undefined) lines.push(`Next command: ${commandHtml(next)}`);
  if (note !== undefined) lines.push(escapeHtml(note));
  return `<div class="answer"><strong>${escapeHtml(answer)}</strong>${lines.map((line) => `<p>${line}</p>`).join("")}</div>`;
}
