import type { Reader } from "./reader.js";

/** Something to tell, before it is words: which entry of a catalogue, and the names and figures that go into it. */
export interface Told<Code extends string = string> {
  readonly code: Code;
  /** Plain values, so that it can be sent from thread to thread. */
  readonly data: object;
}

/** Data of figures, and of names or other texts. */
export type Figures<Names extends string> = Readonly<Record<Names, number>>;
export type Texts<Names extends string> = Readonly<Record<Names, string>>;

interface Entry<Data> {
  say(data: Data, reader: Reader): string;
}

/** One entry of a catalogue. A method in form, so that entries of different data fit into one table. */
export type Words<Data> = Entry<Data>["say"];

/** What an entry takes. */
export type DataOf<One> = One extends (data: infer Data, reader: Reader) => string ? Data : never;

/** A catalogue bound to its types: `tell` checks data against code, `say` makes the words. */
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
