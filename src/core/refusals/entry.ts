import type { ErrorCode } from "../errors.js";
import type { Reader } from "../reader.js";

/** One thing that the library refuses: its code, and what it says. */
export interface RefusalEntry<Data> {
  readonly code: ErrorCode;
  /** The option at fault, where it is always the same. */
  readonly option?: string;
  /** A method in form, so that entries of different data fit into one table. */
  words(data: Data, reader: Reader): string;
}

/** What a table of them is checked against. */
export type RefusalTable = Readonly<Record<string, RefusalEntry<never>>>;
