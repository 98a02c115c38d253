import type { Candidate, Comparison } from "../comparison.js";
import { type Column, candidateName, choicesOf, comparisonColumns } from "./comparison-columns.js";

/** A value as it is read; empty where there is nothing to tell. A bias that is nothing has no sign. */
export function shownValue({ value, digits }: Column, candidate: Candidate): string {
  const said = value(candidate);
  return typeof said === "number" ? said.toFixed(digits).replace(/^-(?=[0.]+$)/, "") : said;
}

/** A column's head on one line. */
export const headOf = ({ head }: Column): string => head.filter(Boolean).join(" ");

export const WINS = ["nominal", "robust", "fast"] as const;

/** What a candidate has won. */
export const winsOf = ({ winners }: Comparison, k: number): readonly string[] =>
  WINS.filter((which) => winners[which] === k);

/** The figures that say anything of these candidates: the firing lag's says nothing where there is none. */
export const tellingFigures = (candidates: readonly Candidate[]): readonly Column[] =>
  comparisonColumns.filter(
    (column) => column.choice === undefined && candidates.some((one) => column.value(one) !== ""),
  );

/** A candidate by its number in the order asked for, and by what tells it from the others. */
export function numberedName({ candidates }: Comparison, k: number): string {
  const name = candidateName(candidates[k], choicesOf(candidates, true)) || candidates[k].method;
  return `${k + 1} · ${name}`;
}

/** A warning, and the candidates that it is for. */
export interface SharedWarning {
  readonly message: string;
  readonly of: readonly number[];
}

/** What to know of the winners before burning, each warning once. */
export function winnersWarnings({ candidates, winners }: Comparison): readonly SharedWarning[] {
  const shared = new Map<string, number[]>();
  candidates.forEach(({ warnings }, k) => {
    for (const { message } of warnings) shared.set(message, [...(shared.get(message) ?? []), k]);
  });
  const won = Object.values(winners);
  return [...shared]
    .filter(([, of]) => of.some((k) => won.includes(k)))
    .map(([message, of]) => ({ message, of }));
}

/** Why errors on several materials cannot be held against one another; nothing where there is one. */
export const acrossMaterials = (candidates: readonly Candidate[]): string | undefined =>
  new Set(candidates.map(({ material }) => material)).size > 1
    ? "An error is against the tones that the material can show: a material of a smaller range has smaller errors. Compare within a material."
    : undefined;
