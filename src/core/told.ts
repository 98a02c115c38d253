import type { Reader } from "./reader.js";

/** A message before it becomes words: the code of a catalogue entry, and the data for its words. */
export interface Told<Code extends string = string> {
  readonly code: Code;
  /** Plain values, which can be sent between threads. */
  readonly data: object;
}

/** Data with numbers, and with texts. */
export type Figures<Names extends string> = Readonly<Record<Names, number>>;
export type Texts<Names extends string> = Readonly<Record<Names, string>>;

/** The words of one entry. Typed as a method, so that entries with different data fit into one table. */
export type Words<Data> = { say(data: Data, reader: Reader): string }["say"];

/** The data of an entry. */
export type DataOf<One> = One extends (data: infer Data, reader: Reader) => string ? Data : never;

/** A typed catalogue: `tell` checks that the data fit the code, `say` makes the words. */
export function catalogue<Entries extends Readonly<Record<string, Words<never>>>>(entries: Entries) {
  type Code = keyof Entries & string;
  return {
    tell: <One extends Code>(code: One, data: DataOf<Entries[One]>): Told<One> => ({
      code,
      data: data as object,
    }),
    say: ({ code, data }: Told<Code>, reader: Reader): string =>
      (entries[code] as Words<object>)(data, reader),
  };
}
