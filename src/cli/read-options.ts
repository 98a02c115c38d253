import { basename } from "node:path";
import type { input, ZodObject } from "zod";
import { SpotpitchError } from "../core/errors.js";
import { resolveMaterial } from "../core/material/material.js";
import { didYouMean } from "../core/nearest-name.js";
import { refusedWith } from "../core/refusals/refusals.js";
import { assertOptions } from "../options/option-error.js";
import { readerOf, sheetReader } from "./command-reader.js";
import { type CommandOptions, commandOptions, flagName, flagNamed, namesOf } from "./flags.js";
import { asWritten, type Given, plainText, typedValues, valuesIn } from "./given.js";
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
  return {
    given: valuesIn(flags, mine, reader),
    out: out === undefined ? undefined : plainText("out", out, reader),
  };
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
    throw refusedWith(error, { file });
  }
  return content;
}
