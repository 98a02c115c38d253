import type { Plan } from "../6-report/plan.js";
import { givenByWords } from "../6-report/words/given-words.js";
import { planColumns } from "../6-report/words/plan-columns.js";
import { jobWords, lensWords, nextNote } from "../6-report/words/plan-words.js";
import { cautionsInShort } from "../core/material/cautions.js";
import { densityWords } from "../core/words.js";
import { commandReader } from "./command-reader.js";
import { row } from "./labelled-row.js";

/** Marks the chosen row. Other rows are indented by its width. */
const MARK = "→ ";

/**
 * A plan for a terminal: the job, the densities with the chosen one marked, and the reasons.
 *
 * @param commands that find the power, if it is not known, and prepare the piece
 */
export function planTable(
  plan: Plan,
  files: readonly string[],
  { next, powerTest }: { readonly next: string; readonly powerTest: string | undefined },
): string {
  const { recommended, notes, cautions } = plan;
  const lines = [
    row("plan", jobWords(plan, commandReader)),
    ...plan.lenses.map((lens) => row("spot", lensWords(lens, plan, commandReader))),
    ...[givenByWords(plan.job.givenBy)].flatMap((words) =>
      words === undefined ? [] : [row("machine", words)],
    ),
    "",
    ...tableLines(plan),
    "",
    row(
      "recommended",
      `${densityWords(recommended.linesPerInch)} lines per inch${recommended.meetsLimits ? "" : " (limits not met)"}`,
    ),
    row("because", recommended.reason),
    row("power", plan.power.message),
    ...recommended.whatWouldChangeIt.map((change, k) => row(k === 0 ? "alternatives" : "", change)),
    ...notes.map(({ message }) => row("note", message)),
    ...files.map((file) => row("wrote", file)),
    ...(powerTest === undefined ? [] : [row("find power", powerTest)]),
    row("next", next),
    ...[nextNote(plan)].flatMap((note) => (note === undefined ? [] : [row("", note)])),
    "",
    "Cautions:",
    ...cautionsInShort(cautions, "page").map((caution) => `  - ${caution}`),
  ];
  return lines.join("\n");
}

function tableLines(plan: Plan): string[] {
  const columns = planColumns(plan);
  const heads = [0, 1].map((line) => columns.map(({ head }) => head[line]));
  const cells = plan.rows.map((row) => columns.map(({ cell }) => cell(row)));
  const widths = columns.map((_, c) => Math.max(...[...heads, ...cells].map((line) => line[c].length)));
  const lined = (line: readonly string[], mark: string): string =>
    `${mark}${line.map((text, c) => (columns[c].words ? text.padEnd(widths[c]) : text.padStart(widths[c]))).join("  ")}`.trimEnd();
  const plain = " ".repeat(MARK.length);
  return [
    ...heads.map((head) => lined(head, plain)),
    ...cells.map((line, k) => lined(line, k === plan.recommended.row ? MARK : plain)),
  ];
}
