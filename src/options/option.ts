import type * as z from "zod";
import type { ShownUnits } from "../core/shown-units.js";

export type Command =
  | "prepare"
  | "plan"
  | "compare"
  | "batch"
  | "worker"
  | "power-test"
  | "card"
  | "calibrate";
/** Kinds of work for a plan. */
export const workKinds = ["photo", "strip", "shade"] as const;

/** What an option may need to have an effect. The first four are uses of a halftone. */
export type Need =
  | "scan"
  | "seed"
  | "clumping"
  | "screen"
  | "search"
  | "cone"
  | "both-sizes"
  | "cut-to-fit"
  | "tones"
  | "automatic-levels"
  | "two-way"
  | "optics"
  | "defocus"
  | "no-tones-asked";

/** An option that was given, and what it needs. */
export interface IdleOption {
  readonly option: string;
  readonly need: Need;
}

/** How a value is written on a command line, in a config file or in a job sheet. */
export interface TextForm {
  /** Throws `OPTION_INVALID` for a text that cannot be read. */
  readonly read: (option: string, text: string) => unknown;
  /** For defaults in the help: their unit, and the factor from the library's unit to it. */
  readonly unit?: string;
  readonly times?: number;
  /** The units in which results are shown to somebody who wrote this. Only of sizes and of the machine's motion. */
  readonly units?: (text: string) => Partial<ShownUnits>;
  /** True if a config file may also contain the value in the form that the library takes. */
  readonly structured?: boolean;
}

export type Field = z.ZodDefault<z.ZodType> | z.ZodOptional<z.ZodType>;

/**
 * One option: the only definition for the library, the command line, config files, job sheets, the help and the reference. Its
 * name in the library is its key in the table.
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

/** Properties that only some options have. */
export interface OptionRemarks {
  /** The default in words, if there is no fixed default. */
  readonly otherwise?: string;
  /** The commands that take it. Default: all. */
  readonly commands?: readonly Command[];
  /** The only kind of work for which a plan takes it. */
  readonly work?: (typeof workKinds)[number];
  /** True if it is only for tonal pictures: a solid piece accepts only its default. */
  readonly tonal?: boolean;
  /** True if its default stands for a figure of the user's own machine. Results then say that it was assumed. */
  readonly assumed?: true;
  /** What it needs to have an effect. Where that is missing, the user is told. */
  readonly needs?: Need;
  /** Present if `compare` takes a list of values. */
  readonly compared?: Compared;
}

export interface Compared {
  /** Nesting order of candidates; the smallest number is outermost. */
  readonly place: number;
  /** These replace the help and the default in words. */
  readonly help?: string;
  readonly otherwise?: string;
}

/** An entry with its heading in the help. */
export type Option = OptionEntry & OptionRemarks & { readonly heading: string };
export type OptionTable = Readonly<Record<string, Option>>;

export const isSwitch = (flag: string): boolean => !flag.includes("<");
