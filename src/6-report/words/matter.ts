import type { Reader } from "../../core/reader.js";

/**
 * Something that a user should know before burning. The same words serve the terminal, the pages and the library. Its members have
 * the form of methods, so that entries with different data fit into one table.
 */
export interface Matter<Data> {
  /** In a few words, without a full stop. */
  readonly title: string;
  /** The effect and its reason. */
  happens(data: Data, reader: Reader): string;
  whatToDo(data: Data, reader: Reader): string;
}

/** The full text. */
export const sayMatter = <Data>(matter: Matter<Data>, data: Data, reader: Reader): string =>
  `${matter.happens(data, reader)} ${matter.whatToDo(data, reader)}`;

/** A figure with this number of digits after the point. */
export const fixed = (value: number, digits: number): string => value.toFixed(digits);
