import type { Reader } from "../../core/reader.js";

/**
 * Something that a user should know before burning, in words: once, for the terminal, the pages and the library. Its members
 * are methods in form, so that matters of different data fit into one table.
 */
export interface Matter<Data> {
  /** In a few words, without a full stop. */
  readonly title: string;
  /** What happens, and why. */
  happens(data: Data, reader: Reader): string;
  whatToDo(data: Data, reader: Reader): string;
}

/** A matter in full. */
export const sayMatter = <Data>(matter: Matter<Data>, data: Data, reader: Reader): string =>
  `${matter.happens(data, reader)} ${matter.whatToDo(data, reader)}`;

/** A figure with so many digits behind the point. */
export const fixed = (value: number, digits: number): string => value.toFixed(digits);
