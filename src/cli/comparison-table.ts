import type { Comparison } from "../6-report/comparison.js";
import { type Column, candidateName, choicesOf } from "../6-report/words/comparison-columns.js";
import {
  acrossMaterials,
  comparedTimes,
  shownValue,
  tellingFigures,
  winnersWarnings,
} from "../6-report/words/comparison-words.js";
import { leftOutWords } from "../6-report/words/left-out-words.js";
import { EXPECTED_MEANS, TONE_SHIFT_MEANS, UNEVENNESS_MEANS } from "../6-report/words/variation-words.js";
import { commandReaderIn } from "./command-reader.js";

/**
 * A comparison for a terminal: the common choices of all candidates, their differences and figures, and the three winners with
 * reasons.
 *
 * @param computingSeconds of each candidate. Shown only here, because the time differs from run to run
 */
export function comparisonTable(
  made: Comparison,
  computingSeconds: readonly number[],
  files: readonly string[],
): string {
  const { candidates, winners, reasons } = made;
  const differing = choicesOf(candidates, true);
  const winnerLine = (which: keyof typeof winners): string => {
    const name = candidateName(candidates[winners[which]], differing);
    return `${which.padEnd(8)} ${name && `${name}: `}${reasons[which]}`;
  };
  const whom = (of: readonly number[]): string => {
    if (of.length === candidates.length) return "";
    const names = of.map((k) => candidateName(candidates[k], differing));
    return `${of.length > MAX_NAMED ? `${of.length} of ${candidates.length}` : names.join("; ")}: `;
  };
  const empty = candidates.some(({ differentTints }) => differentTints !== undefined);
  return [
    `all with ${candidateName(candidates[0], choicesOf(candidates, false))}`,
    "",
    ...tableLines(made, differing, computingSeconds),
    "",
    ...(empty ? ["note     held tones are left empty if a method makes fewer tints than that"] : []),
    `note     uneven: ${UNEVENNESS_MEANS}`,
    `note     tone shift: ${TONE_SHIFT_MEANS}`,
    `note     expected: ${EXPECTED_MEANS}`,
    winnerLine("nominal"),
    winnerLine("robust"),
    winnerLine("fast"),
    `note     ${comparedTimes(made, commandReaderIn(made.units))}`,
    ...[acrossMaterials(candidates)].flatMap((words) => (words === undefined ? [] : [`note     ${words}`])),
    ...[leftOutWords(made)].flatMap((words) => (words === undefined ? [] : [`left out ${words}`])),
    ...winnersWarnings(made).map(({ message, of }) => `warning  ${whom(of)}${message}`),
    ...files.map((file) => `wrote    ${file}`),
  ].join("\n");
}

/** More candidates than this are counted, not named. */
const MAX_NAMED = 3;

function tableLines(
  made: Comparison,
  differing: readonly Column[],
  computingSeconds: readonly number[],
): readonly string[] {
  const { candidates } = made;
  const figures = tellingFigures(made).filter(({ more }) => !more);
  const columns = [...differing, ...figures];
  const cells = [
    ...[0, 1].map((line) => [...columns.map(({ head }) => head[line]), ["computing", "s"][line]]),
    ...candidates.map((one, k) => [
      ...columns.map((column) => shownValue(column, one)),
      computingSeconds[k]?.toFixed(1) ?? "",
    ]),
  ];
  const widths = cells[0].map((_, c) => Math.max(...cells.map((line) => line[c].length)));
  const numeric = [...columns.map(({ digits }) => digits !== undefined), true];
  return cells.map((line) =>
    line
      .map((text, c) => (numeric[c] ? text.padStart(widths[c]) : text.padEnd(widths[c])))
      .join("  ")
      .trimEnd(),
  );
}
