import { SpotpitchError } from "../core/errors.js";
import { type GivenBy, type Reader, TYPED } from "../core/reader.js";
import { refusedWith, sayRefusal } from "../core/refusals/refusals.js";
import { METRIC, type ShownUnits } from "../core/shown-units.js";
import { machineFigures } from "../options/machine.js";
import { invalid, shown } from "../options/option-error.js";
import { commandReader } from "./command-reader.js";
import { type Flag, flagName, flagNamed, isNegative, isSwitch } from "./flags.js";

/** A value that the user gave for an option. */
export interface Given {
  readonly flag: Flag;
  readonly value: unknown;
  /** The value as it was written, and the reader of messages about it. */
  readonly written: unknown;
  readonly reader: Reader;
  /** Where it was given: "the command line", "the config file shop.json". */
  readonly where: string;
}

/** Typed values, by flag name. */
export function typedValues(flags: readonly Flag[], typed: ReadonlyMap<string, string | boolean>): Given[] {
  return flags.flatMap((flag) => {
    const written = typed.get(flagName(flag));
    const read = () => flag.parse(flag.option, String(written));
    return written === undefined
      ? []
      : {
          flag,
          written,
          reader: commandReader,
          where: TYPED,
          value: readFor(commandReader, read),
        };
  });
}

/** Values from JSON, by flag name. @param where for reports: "the config file shop.json" */
export function valuesIn(
  flags: readonly Flag[],
  values: Readonly<Record<string, unknown>>,
  reader: Reader,
  where: string,
): Given[] {
  return Object.entries(values).flatMap(([name, written]) => {
    const flag = flagNamed(flags, name);
    if (!flag) return [];
    return { flag, written, reader, where, value: readFor(reader, () => valueIn(flag, name, written)) };
  });
}

function valueIn(flag: Flag, name: string, written: unknown): unknown {
  if (isSwitch(flag)) {
    if (typeof written !== "boolean") throw invalid(flag.option, written, "true or false");
    return isNegative(name) ? !written : written;
  }
  const isList = Array.isArray(written);
  if (flag.structured && typeof written === "object" && written !== null && !isList) return written;
  if (isList && written.every(isText)) return flag.parse(flag.option, String(written));
  return flag.parse(flag.option, textOf(flag.option, written));
}

const isText = (value: unknown): boolean => typeof value === "string" || typeof value === "number";

function textOf(option: string, written: unknown): string {
  if (isText(written)) return String(written);
  throw invalid(option, written, "a number or a text, written as on the command line");
}

/** The text of a value whose name is no option of the library. */
export const plainText = (name: string, written: unknown, reader: Reader): string =>
  readFor(reader, () => textOf(name, written));

/** The units of what was given. Sizes are shown in inches if all of them were given in inches. */
export function unitsOf(given: readonly Given[]): ShownUnits {
  const written = given.map(({ flag, written }) => flag.units?.(String(written)) ?? {});
  const lengths = written.flatMap(({ length }) => length ?? []);
  const inInches = lengths.length > 0 && lengths.every((length) => length === "in");
  return Object.assign({}, METRIC, ...written, { length: inInches ? "in" : "mm" });
}

/** Where the machine's figures were given, by option. */
export const givenByOf = (given: ReadonlyMap<string, Given>): GivenBy =>
  Object.fromEntries(
    [...machineFigures, "doseSpread"].flatMap((option) => {
      const at = given.get(option);
      return at ? [[option, at.where]] : [];
    }),
  );

function readFor<T>(reader: Reader, read: () => T): T {
  try {
    return read();
  } catch (error) {
    throw error instanceof SpotpitchError ? said(error, reader, error.received) : error;
  }
}

/** An error of the option check, with the value as it was written. */
export function asWritten(error: unknown, given: ReadonlyMap<string, Given>): unknown {
  if (!(error instanceof SpotpitchError)) return error;
  const at = given.get(error.option ?? "");
  return at ? said(error, at.reader, at.written) : error;
}

/** An error in the reader's words. It has no catalogue entry, so later code does not reword it. */
function said(error: SpotpitchError, reader: Reader, received: unknown): SpotpitchError {
  const { code, allowed, refusal } = error;
  const quoted = refusal?.id === "option-takes" ? refusedWith(error, { got: shown(received) }) : error;
  const words = sayRefusal(quoted, reader);
  return new SpotpitchError(code, words, { received, ...(allowed !== undefined && { allowed }) });
}
