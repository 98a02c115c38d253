import type { Candidate, Comparison } from "../6-report/comparison.js";
import { type Column, candidateName, choicesOf } from "../6-report/words/comparison-columns.js";
import { termsOf } from "../6-report/words/comparison-terms.js";
import {
  acrossMaterials,
  comparedTimes,
  sharedWarnings,
  shownValue,
  tellingFigures,
} from "../6-report/words/comparison-words.js";
import { givenByWords } from "../6-report/words/given-words.js";
import { leftOutWords } from "../6-report/words/left-out.js";
import { commandReaderFor } from "./command-reader.js";

/** Marks what to take. Other rows are indented by its width. */
const MARK = "→ ";

/**
 * A comparison for a terminal: what to take, the figures of all candidates, what the figures mean, and the three winners with
 * reasons.
 *
 * @param computingSeconds of each candidate. Shown only here, because the time differs from run to run
 */
export function comparisonTable(
  made: Comparison,
  computingSeconds: readonly number[],
  files: readonly string[],
): string {
  const { candidates, winners, reasons, recommended } = made;
  const differing = choicesOf(candidates, true);
  const figures = tellingFigures(made).filter(({ more }) => !more);
  const winnerLine = (which: keyof typeof winners): string => {
    const name = candidateName(candidates[winners[which]], differing);
    return label(which, `${name && `${name}: `}${reasons[which]}`);
  };
  const whom = (of: readonly number[]): string => {
    if (of.length === candidates.length) return "";
    const names = of.map((k) => candidateName(candidates[k], differing));
    return `${of.length > MAX_NAMED ? `${of.length} of ${candidates.length}` : names.join("; ")}: `;
  };
  return [
    recommended.sentence,
    "",
    `all with ${candidateName(candidates[0], choicesOf(candidates, false))}`,
    "",
    ...tableLines(made, [...differing, ...figures], computingSeconds),
    "",
    ...termsOf(figures).map(({ term, means }) => label(term, means)),
    "",
    ...(candidates.length > 1 ? [winnerLine("nominal"), winnerLine("robust"), winnerLine("fast")] : []),
    ...[givenByWords(made.givenBy)].flatMap((words) =>
      words === undefined ? [] : [label("machine", words)],
    ),
    label("note", comparedTimes(made, commandReaderFor(made))),
    ...leftOutWords(made).map((words) => label("left out", words)),
    ...[acrossMaterials(candidates)].flatMap((words) => (words === undefined ? [] : [label("note", words)])),
    ...(differInDensity(candidates) ? [label("note", DENSITY_NOTE)] : []),
    ...sharedWarnings(made).map(({ message, of }) => label("warning", `${whom(of)}${message}`)),
    ...files.map((file) => label("wrote", file)),
  ].join("\n");
}

const DENSITY_NOTE = "spotpitch plan weighs densities against time.";

/** True if a material has several densities. */
const differInDensity = (candidates: readonly Candidate[]): boolean =>
  candidates.some((one) =>
    candidates.some((other) => other.material === one.material && other.linesPerInch !== one.linesPerInch),
  );

const label = (name: string, text: string): string => `${name.padEnd(10)} ${text}`;

/** More candidates than this are counted, not named. */
const MAX_NAMED = 3;

function tableLines(
  { candidates, recommended }: Comparison,
  columns: readonly Column[],
  computingSeconds: readonly number[],
): readonly string[] {
  const heads = [0, 1].map((line) => [...columns.map(({ head }) => head[line]), ["computing", "s"][line]]);
  const cells = candidates.map((one, k) => [
    ...columns.map((column) => shownValue(column, one)),
    computingSeconds[k]?.toFixed(1) ?? "",
  ]);
  const widths = heads[0].map((_, c) => Math.max(...[...heads, ...cells].map((line) => line[c].length)));
  const numeric = [...columns.map(({ digits }) => digits !== undefined), true];
  const lined = (line: readonly string[], mark: string): string =>
    `${mark}${line.map((text, c) => (numeric[c] ? text.padStart(widths[c]) : text.padEnd(widths[c]))).join("  ")}`.trimEnd();
  const plain = " ".repeat(MARK.length);
  return [
    ...heads.map((head) => lined(head, plain)),
    ...cells.map((line, k) => lined(line, recommended.candidates.includes(k) ? MARK : plain)),
  ];
}
