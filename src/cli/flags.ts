import type { ZodObject } from "zod";
import { batchSchema, batchTable, workerSchema, workerTable } from "../batch/batch-options.js";
import { prepareCommandSchema, prepareCommandTable } from "../board/board-options.js";
import { calibrateSchema, calibrateTable } from "../options/calibrate-options.js";
import { cardCommandSchema, cardCommandTable } from "../options/check-options.js";
import { type Command, isSwitch as hasNoValue, type OptionTable, type TextForm } from "../options/option.js";
import { defaultWords } from "../options/option-words.js";
import { powerTestSchema, powerTestTable } from "../options/power-test-options.js";
import { compareSchema, compareTable, planSchema, planTable, prepareTable } from "../options/tables.js";

/** One option of a command on the command line, in config files and in job sheets. */
export interface Flag {
  /** `--width <length>`; a switch without a value, `--mirror` or `--no-auto-tone`. */
  readonly usage: string;
  /** The library option that it sets. */
  readonly option: string;
  readonly parse: (option: string, text: string) => unknown;
  /** Whether the library takes a value that was read. */
  readonly takes: (value: unknown) => boolean;
  /** True if a config file may contain the library's own form of the value. */
  readonly structured: boolean;
  /** The units in which results are shown to somebody who wrote this. */
  readonly units: TextForm["units"];
  readonly help: string;
  /** Heading of its group in the help. */
  readonly group: string;
}

/** The options of a command: its table, its flags in the order of the help, and the schema that checks their values. */
export interface CommandOptions<Schema extends ZodObject = ZodObject> {
  readonly name: Command;
  readonly table: OptionTable;
  readonly flags: readonly Flag[];
  readonly schema: Schema;
}

export const commandOptions = {
  prepare: optionsOf("prepare", prepareCommandTable, prepareCommandSchema),
  plan: optionsOf("plan", planTable, planSchema),
  batch: optionsOf("batch", batchTable, batchSchema),
  worker: optionsOf("worker", workerTable, workerSchema),
  compare: optionsOf("compare", compareTable, compareSchema),
  "power-test": optionsOf("power-test", powerTestTable, powerTestSchema),
  card: optionsOf("card", cardCommandTable, cardCommandSchema),
  calibrate: optionsOf("calibrate", calibrateTable, calibrateSchema),
} as const;

/** Options of a piece alone: what a row of a job sheet may set. */
export const pieceFlags: readonly Flag[] = flagsOf(prepareTable);

function optionsOf<Schema extends ZodObject>(
  name: Command,
  table: OptionTable,
  schema: Schema,
): CommandOptions<Schema> {
  return { name, table, flags: flagsOf(table), schema };
}

function flagsOf(table: OptionTable): Flag[] {
  return Object.entries(table).map(([name, option]) => {
    const fallback = defaultWords(option);
    return {
      usage: option.flag,
      option: name,
      parse: option.text.read,
      takes: (value) => option.takes.safeParse(value).success,
      structured: option.text.structured === true,
      units: option.text.units,
      help: fallback === undefined ? option.help : `${option.help} (default: ${fallback})`,
      group: option.heading,
    };
  });
}

/** `--density-along <lines>` → `density-along`: the name in a config file or a job sheet. */
export const flagName = (flag: Flag): string => flag.usage.slice(2).split(" ")[0];

export const isSwitch = (flag: Flag): boolean => hasNoValue(flag.usage);

/** The switch for the opposite: `no-mirror` for `mirror`, `auto-tone` for `no-auto-tone`. */
export const oppositeName = (flag: Flag): string =>
  isNegative(flagName(flag)) ? flagName(flag).slice(3) : `no-${flagName(flag)}`;

/** True for the name of a switch that sets its option to false. */
export const isNegative = (name: string): boolean => name.startsWith("no-");

/** The flag of that name, or the switch whose opposite has that name. */
export const flagNamed = (flags: readonly Flag[], name: string): Flag | undefined =>
  flags.find((flag) => flagName(flag) === name || (isSwitch(flag) && oppositeName(flag) === name));

/** A switch set to a value, by its name or its opposite's: `no-mirror`. */
export const switchName = (flag: Flag, value: unknown): string =>
  value === isNegative(flagName(flag)) ? oppositeName(flag) : flagName(flag);

/** Every name that a config file or a job sheet may use. */
export const namesOf = (flags: readonly Flag[]): string[] =>
  flags.flatMap((flag) => (isSwitch(flag) ? [flagName(flag), oppositeName(flag)] : [flagName(flag)]));
