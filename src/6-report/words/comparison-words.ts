import type { Reader } from "../../core/reader.js";
import type { Candidate, Comparison } from "../comparison.js";
import { type Column, candidateName, choicesOf, comparisonColumns } from "./comparison-columns.js";
import { paceWithAdvice } from "./pace-words.js";

/** A value as text; may be empty. A bias that rounds to zero has no sign. */
export function shownValue({ value, digits }: Column, candidate: Candidate): string {
  const said = value(candidate);
  return typeof said === "number" ? said.toFixed(digits).replace(/^-(?=[0.]+$)/, "") : said;
}

/** A column's head on one line. */
export const headOf = ({ head }: Column): string => head.filter(Boolean).join(" ");

export const WINS = ["nominal", "robust", "fast"] as const;

/** What is said of a candidate beside its picture: whether to take it, and what it has won. */
export function badgesOf({ winners, recommended }: Comparison, k: number): readonly string[] {
  // "fast" is no merit of its own where nothing saves time.
  const won = WINS.filter((which) => winners[which] === k && (which !== "fast" || k !== winners.robust));
  return [
    ...(recommended.candidates.includes(k) ? ["take this"] : []),
    ...won.map((which) => `best ${which}`),
  ];
}

/** The figures that have a value for these candidates. For example, without a firing lag its figure is omitted. */
export const tellingFigures = ({ candidates, spread }: Comparison): readonly Column[] =>
  comparisonColumns(spread).filter(
    (column) => column.choice === undefined && candidates.some((one) => column.value(one) !== ""),
  );

/** A candidate by its number in the order of the request, and by the choices that differ. */
export function numberedName({ candidates }: Comparison, k: number): string {
  const name = candidateName(candidates[k], choicesOf(candidates, true)) || candidates[k].method;
  return `${k + 1} · ${name}`;
}

/** A warning and its candidates. */
export interface SharedWarning {
  readonly message: string;
  readonly of: readonly number[];
}

/** The warnings of the winners and of what to take, each once. */
export function sharedWarnings({ candidates, winners, recommended }: Comparison): readonly SharedWarning[] {
  const shared = new Map<string, number[]>();
  candidates.forEach(({ warnings }, k) => {
    for (const { message } of warnings) shared.set(message, [...(shared.get(message) ?? []), k]);
  });
  const won = [...recommended.candidates, ...Object.values(winners)];
  return [...shared]
    .filter(([, of]) => of.some((k) => won.includes(k)))
    .map(([message, of]) => ({ message, of }));
}

/** What the run times rest on; a sentence. */
export const comparedTimes = (comparison: Comparison, reader: Reader): string =>
  `Run times are at ${paceWithAdvice(comparison, reader)}.`;

/** Why errors on several materials cannot be compared; undefined for one material. */
export const acrossMaterials = (candidates: readonly Candidate[]): string | undefined =>
  new Set(candidates.map(({ material }) => material)).size > 1
    ? "An error is against the tones that the material can show: a material of a smaller range has smaller errors. Compare within a material."
    : undefined;
