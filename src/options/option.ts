import type * as z from "zod";

export type Command = "prepare" | "plan" | "compare" | "batch";
/** Kinds of work that a plan is made for. */
export const workKinds = ["photo", "strip", "shade"] as const;

/** How a value is written on a command line, in a config file or in a job sheet. */
export interface TextForm {
  /** Throws `OPTION_INVALID` for a text that cannot be read. */
  readonly read: (option: string, text: string) => unknown;
  /** Where the help writes a default: the unit behind it, and how many of these units are one of the library's. */
  readonly unit?: string;
  readonly times?: number;
  /** True where a config file may hold the value itself, as the library takes it. */
  readonly structured?: boolean;
}

export type Field = z.ZodDefault<z.ZodType> | z.ZodOptional<z.ZodType>;

/**
 * One option: all that the library, the command line, config files, job sheets, the help and the reference know of it. Its name
 * in the library is its key in the table.
 */
export interface OptionEntry<Takes extends Field = Field> {
  /** `--width <length>`; a switch has no value: `--mirror`, `--no-auto-tone`. Config files and sheets leave the dashes out. */
  readonly flag: string;
  readonly text: TextForm;
  /** What the library takes, with limits, and the default if there is a fixed one. */
  readonly takes: Takes;
  /** A line of the help, without the default. */
  readonly help: string;
}

/** What is said of some options only. */
export interface OptionRemarks {
  /** What holds when the option is left out, in words, where no fixed default can be shown. */
  readonly otherwise?: string;
  /** The commands that take it. All, if left out. */
  readonly commands?: readonly Command[];
  /** The only kind of work for which a plan takes it. */
  readonly work?: (typeof workKinds)[number];
  /** True where only a tonal picture has a use for it: a solid piece takes its default alone. */
  readonly tonal?: boolean;
  /** Present where `compare` takes a list of values. */
  readonly compared?: Compared;
}

export interface Compared {
  /** Candidates are nested in this order, the outermost first. */
  readonly place: number;
  /** In place of the help and of what holds otherwise. */
  readonly help?: string;
  readonly otherwise?: string;
}

/** An entry under the heading that it has in the help. */
export type Option = OptionEntry & OptionRemarks & { readonly heading: string };
export type OptionTable = Readonly<Record<string, Option>>;

export const isSwitch = (flag: string): boolean => !flag.includes("<");
