import { basename } from "node:path";
import { SpotpitchError } from "../core/errors.js";
import { resolveMaterial } from "../core/material/material.js";
import { didYouMean } from "../options/nearest-name.js";
import type { PrepareOptions } from "../options/options.js";
import { batchFlags } from "./batch/flags.js";
import { compareFlags } from "./compare-flags.js";
import { type Flag, flagName, isNegative, isSwitch, oppositeName, prepareFlags } from "./flags.js";
import { readInputFile, readJsonFile } from "./input-files.js";
import { planFlags } from "./plan-flags.js";

/** What a command line and its config file ask for. */
export interface Asked {
  readonly options: PrepareOptions;
  /** The config file's `out`. */
  readonly out: string | undefined;
}

/** Options by flag name, as in a config file, and where they stand, for messages. */
export interface OptionRow {
  readonly values: Readonly<Record<string, unknown>>;
  readonly where: string;
}

/**
 * Options of the library from what the user typed and, beneath it, a config file. The command line wins.
 *
 * @param typed values by flag name (without dashes), as text, and for a switch what its library option becomes; only what was
 *   really typed
 * @param row options for one photo of many, which win over both
 */
export async function readOptions(
  flags: readonly Flag[],
  typed: ReadonlyMap<string, string | boolean>,
  configFile: string | undefined,
  row?: OptionRow,
): Promise<Asked> {
  const { out, ...options } = configFile === undefined ? {} : await configOptions(flags, configFile, typed);
  for (const flag of flags) {
    const value = typed.get(flagName(flag));
    if (value !== undefined) options[flag.option] = flag.parse(`--${flagName(flag)}`, String(value));
  }
  if (row) Object.assign(options, optionsIn(flags, row.values, row.where));
  const { material } = options;
  if (Array.isArray(material)) options.material = await Promise.all(material.map(fromFile));
  else if (material !== undefined) options.material = await fromFile(material);
  if (typeof options.mask === "string") {
    options.mask = { bytes: await readInputFile(options.mask, "mask"), fileName: basename(options.mask) };
  }
  return { options: options as PrepareOptions, out: out === undefined ? undefined : String(out) };
}

function commandOf(flags: readonly Flag[]): string {
  if (flags === prepareFlags) return "prepare";
  if (flags === batchFlags) return "batch";
  return flags === compareFlags ? "compare" : "plan";
}

/**
 * What a config file says to this command. What only another command takes is passed over, so that one file serves them all; and
 * so is what was typed, which may be written for another command as well (`plan` takes several spots).
 */
async function configOptions(
  flags: readonly Flag[],
  file: string,
  typed: ReadonlyMap<string, unknown>,
): Promise<Record<string, unknown>> {
  const content = await readJsonFile(file, "config file", "INPUT_CONFIG_INVALID");
  if (typeof content !== "object" || content === null || Array.isArray(content)) {
    throw new SpotpitchError(
      "INPUT_CONFIG_INVALID",
      `The config file "${file}" cannot be used: it must hold one JSON object of options.`,
      { option: "config" },
    );
  }
  const bears = ([name]: [string, unknown]): boolean => {
    const flag = flagNamed(flags, name);
    return flag ? !typed.has(flagName(flag)) : !flagNamed([...planFlags, ...batchFlags], name);
  };
  return optionsIn(flags, Object.fromEntries(Object.entries(content).filter(bears)), file);
}

/** The flag of that name, or the switch whose opposite has it. */
const flagNamed = (flags: readonly Flag[], name: string): Flag | undefined =>
  flags.find((flag) => flagName(flag) === name || (isSwitch(flag) && oppositeName(flag) === name));

function optionsIn(flags: readonly Flag[], content: object, file: string): Record<string, unknown> {
  const invalid = (name: string, allowed: string, received: unknown): SpotpitchError =>
    new SpotpitchError("OPTION_INVALID", `"${name}" in ${file} takes ${allowed}.`, { received, allowed });
  const options: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(content)) {
    const flag = flagNamed(flags, name);
    if (!flag && name !== "out") {
      const near = didYouMean(name, ["out", ...flags.map(flagName)]);
      throw new SpotpitchError(
        "OPTION_UNKNOWN",
        `There is no option "${name}", which stands in ${file}.${near} "spotpitch ${commandOf(flags)} --help" lists what there is.`,
        { option: name, received: value },
      );
    }
    if (flag && isSwitch(flag)) {
      if (typeof value !== "boolean") throw invalid(name, "true or false", value);
      options[flag.option] = isNegative(name) ? !value : value;
      continue;
    }
    const isStructure = typeof value === "object" && value !== null && !Array.isArray(value);
    if (isStructure && (name === "material" || name === "spot")) {
      options[flag?.option ?? name] = value;
      continue;
    }
    const isList = Array.isArray(value) && value.every((each) => ["string", "number"].includes(typeof each));
    if (!isList && typeof value !== "string" && typeof value !== "number") {
      throw invalid(name, "a number or a text, written as on the command line", value);
    }
    options[flag?.option ?? name] = flag ? flag.parse(`"${name}" in ${file}`, String(value)) : value;
  }
  return options;
}

/** A material's file name replaced by what the file holds. */
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
