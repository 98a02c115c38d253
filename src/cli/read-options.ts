import { basename } from "node:path";
import type { input, ZodObject } from "zod";
import { SpotpitchError } from "../core/errors.js";
import { resolveMaterial } from "../core/material/material.js";
import type { Reader } from "../core/reader.js";
import { didYouMean } from "../options/nearest-name.js";
import { assertOptions, invalid, sayOptionError } from "../options/option-error.js";
import { commandReader, readerOf, sheetReader } from "./command-reader.js";
import {
  type CommandOptions,
  commandOptions,
  type Flag,
  flagName,
  flagNamed,
  isNegative,
  isSwitch,
  namesOf,
} from "./flags.js";
import { readInputFile, readJsonFile } from "./input-files.js";

/** What a command line and its config file ask for. */
export interface Asked<Options> {
  readonly options: Options;
  /** The config file's `out`. */
  readonly out: string | undefined;
}

/** Options by flag name, as in a config file, and where they stand, for messages. */
export interface OptionRow {
  readonly values: Readonly<Record<string, unknown>>;
  readonly where: string;
}

/** A value that someone gave for an option. */
interface Given {
  readonly flag: Flag;
  readonly value: unknown;
  /** As it was written, and who reads what is said of it. */
  readonly written: unknown;
  readonly reader: Reader;
}

/**
 * Options of the library from a config file, from what the user typed, and from a row for one photo of many; the later win.
 * What is wrong with a value is told by the option's name and the value as they were written.
 *
 * @param typed values by flag name (without dashes), as text, and for a switch what its library option becomes; only what was
 *   really typed
 */
export async function readOptions<Schema extends ZodObject>(
  command: CommandOptions<Schema>,
  typed: ReadonlyMap<string, string | boolean>,
  configFile: string | undefined,
  row?: OptionRow,
): Promise<Asked<input<Schema>>> {
  const config = configFile === undefined ? undefined : await readConfig(command, configFile, typed);
  const given = new Map<string, Given>();
  for (const each of [
    ...(config?.given ?? []),
    ...typedValues(command.flags, typed),
    ...(row ? valuesIn(command.flags, row.values, sheetReader) : []),
  ]) {
    given.set(each.flag.option, each);
  }
  const options: Record<string, unknown> = {};
  for (const [option, { value }] of given) options[option] = value;
  await readNamedFiles(options);
  try {
    assertOptions(command.schema, options);
    return { options, out: config?.out };
  } catch (error) {
    throw asWritten(error, given);
  }
}

/**
 * What a config file says to this command. What only another command takes is passed over, so that one file serves them all; and
 * so is what was typed, which may be written for another command as well (`plan` takes several spots).
 */
async function readConfig(
  { name: command, flags }: CommandOptions,
  file: string,
  typed: ReadonlyMap<string, unknown>,
): Promise<{ readonly given: Given[]; readonly out: string | undefined }> {
  const content = await readJsonFile(file, "config file", "INPUT_CONFIG_INVALID");
  if (typeof content !== "object" || content === null || Array.isArray(content)) {
    throw new SpotpitchError(
      "INPUT_CONFIG_INVALID",
      `The config file "${file}" cannot be used: it must hold one JSON object of options.`,
      { option: "config" },
    );
  }
  const { out, ...values }: Record<string, unknown> = { ...content };
  const everyFlag = Object.values(commandOptions).flatMap((each) => each.flags);
  const mine: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(values)) {
    const flag = flagNamed(flags, name);
    if (flag && !typed.has(flagName(flag))) mine[name] = value;
    if (flagNamed(everyFlag, name)) continue;
    const message = unknownName(name, file, ["out", ...namesOf(flags)], command);
    throw new SpotpitchError("OPTION_UNKNOWN", message, { received: value });
  }
  const reader = readerOf(file);
  if (out !== undefined && !isText(out)) throw said(invalid("out", out, TEXT_WORDS), reader, out);
  return { given: valuesIn(flags, mine, reader), out: out === undefined ? undefined : String(out) };
}

/** For a name in a config file or a job sheet that no option of the command has. */
export function unknownName(
  name: string,
  file: string,
  names: readonly string[],
  command: CommandOptions["name"],
): string {
  return `Unknown option "${name}" in ${file}.${didYouMean(name, names)} Run spotpitch ${command} --help for the options.`;
}

function typedValues(flags: readonly Flag[], typed: ReadonlyMap<string, string | boolean>): Given[] {
  return flags.flatMap((flag) => {
    const written = typed.get(flagName(flag));
    if (written === undefined) return [];
    return { flag, written, reader: commandReader, value: textValue(flag, String(written), commandReader) };
  });
}

/** Values by flag name, as JSON has them. */
function valuesIn(
  flags: readonly Flag[],
  values: Readonly<Record<string, unknown>>,
  reader: Reader,
): Given[] {
  return Object.entries(values).flatMap(([name, written]) => {
    const flag = flagNamed(flags, name);
    return flag ? { flag, written, reader, value: valueIn(flag, name, written, reader) } : [];
  });
}

const TEXT_WORDS = "a number or a text, written as on the command line";
const isText = (value: unknown): boolean => typeof value === "string" || typeof value === "number";

function valueIn(flag: Flag, name: string, written: unknown, reader: Reader): unknown {
  if (isSwitch(flag)) {
    if (typeof written !== "boolean")
      throw said(invalid(flag.option, written, "true or false"), reader, written);
    return isNegative(name) ? !written : written;
  }
  const isList = Array.isArray(written);
  if (flag.structured && typeof written === "object" && written !== null && !isList) return written;
  if (isList ? written.every(isText) : isText(written)) return textValue(flag, String(written), reader);
  throw said(invalid(flag.option, written, TEXT_WORDS), reader, written);
}

function textValue(flag: Flag, text: string, reader: Reader): unknown {
  try {
    return flag.parse(flag.option, text);
  } catch (error) {
    // Of a list the part that cannot be read.
    throw error instanceof SpotpitchError ? said(error, reader, error.received) : error;
  }
}

/** A value that the check of the options refuses, as it was written. */
function asWritten(error: unknown, given: ReadonlyMap<string, Given>): unknown {
  const at = error instanceof SpotpitchError ? given.get(error.option ?? "") : undefined;
  return at ? said(error, at.reader, at.written) : error;
}

/** An error in the reader's words, which nothing puts into other words later: it names no option of the library. */
function said(error: unknown, reader: Reader, written: unknown): unknown {
  if (!(error instanceof SpotpitchError)) return error;
  const { code, message, option, allowed } = error;
  const words = sayOptionError({ code, message, option, allowed, received: written }, reader);
  return new SpotpitchError(code, words, {
    received: written,
    cause: error,
    ...(allowed !== undefined && { allowed }),
  });
}

/** Names of files replaced by what the files hold. */
async function readNamedFiles(options: Record<string, unknown>): Promise<void> {
  const { material, mask } = options;
  if (Array.isArray(material)) options.material = await Promise.all(material.map(fromFile));
  else if (material !== undefined) options.material = await fromFile(material);
  if (typeof mask === "string") {
    options.mask = { bytes: await readInputFile(mask, "mask"), fileName: basename(mask) };
  }
}

/** A material file's name replaced by what the file holds. */
const fromFile = async (material: unknown): Promise<unknown> =>
  typeof material === "string" && isFileName(material) ? readMaterialFile(material) : material;

const isFileName = (material: string): boolean => /\.json$/i.test(material) || /[\\/]/.test(material);

/** A material file's content, checked here because only here its name is known. Throws `INPUT_*`, and for a forbidden one `OPTION_*`. */
async function readMaterialFile(file: string): Promise<unknown> {
  const content = await readJsonFile(file, "material file", "INPUT_MATERIAL_INVALID");
  try {
    resolveMaterial(content);
  } catch (error) {
    if (!(error instanceof SpotpitchError)) throw error;
    const { code, option, received, allowed } = error;
    const message = error.message.replace(/^The material file\b/, `The material file "${file}"`);
    throw new SpotpitchError(code, message, {
      received,
      cause: error,
      ...(option === undefined ? {} : { option }),
      ...(allowed === undefined ? {} : { allowed }),
    });
  }
  return content;
}
