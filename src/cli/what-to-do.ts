import { cautionsInShort } from "../core/material/cautions.js";
import { row } from "./labelled-row.js";

/** What a person does with a bitmap that is burned for a test. */
export interface ToDo {
  readonly steps: readonly string[];
  /** What comes after the last step. */
  readonly afterwards: string;
  /** The command that comes after that. */
  readonly next?: string;
  readonly notes: readonly string[];
  readonly files: readonly string[];
  readonly cautions: readonly string[];
}

/** The end of what a terminal shows of it. */
export const toDoRows = ({ steps, afterwards, next, notes, files, cautions }: ToDo): string[] => [
  ...steps.map((step, k) => row(`step ${k + 1}`, step)),
  row("then", afterwards),
  ...(next === undefined ? [] : [row("next", next)]),
  ...notes.map((note) => row("note", note)),
  ...files.map((file) => row("wrote", file)),
  "",
  "Cautions:",
  ...cautionsInShort(cautions, "page").map((caution) => `  - ${caution}`),
];
