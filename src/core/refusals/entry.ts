import type { ErrorCode } from "../errors.js";
import type { DataOf, Words } from "../told.js";

/** One refusal: its code and its words. */
export interface RefusalEntry<Data> {
  readonly code: ErrorCode;
  /** The option at fault, if it is always the same. */
  readonly option?: string;
  readonly words: Words<Data>;
}

/** Entries that share a code and the option at fault. */
export function refusedAs<Table extends Readonly<Record<string, Words<never>>>>(
  code: ErrorCode,
  option: string | undefined,
  table: Table,
) {
  const entries = Object.entries(table).map(([id, words]) => [
    id,
    { code, words, ...(option !== undefined && { option }) },
  ]);
  return Object.fromEntries(entries) as {
    readonly [Id in keyof Table]: RefusalEntry<DataOf<Table[Id]>>;
  };
}
