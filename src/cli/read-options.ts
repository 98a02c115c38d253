import { realpath } from "node:fs/promises";
import { basename, resolve, sep } from "node:path";
import type { input, ZodObject } from "zod";
import { SpotpitchError } from "../core/errors.js";
import { resolveMaterial } from "../core/material/material.js";
import { refusedWith } from "../core/refusals/refusals.js";
import { listWords, visible } from "../core/words.js";
import { assertOptions } from "../options/option-error.js";
import { type AsGiven, readerOf, sheetReader } from "./command-reader.js";
import { type CommandOptions, commandOptions, type Flag, flagName, flagNamed, namesOf } from "./flags.js";
import { asWritten, type Given, givenByOf, plainText, typedValues, unitsOf, valuesIn } from "./given.js";
import { readInputFile, readJsonFile } from "./input-files.js";
import { type AskedMachine, findMachine, machineGiven } from "./machine-file.js";
import { answerTo, fileOptions } from "./other-names.js";
import { isInParts, overlaid } from "./overlaid.js";
import { type FileRole, refused } from "./refusals.js";
import { tell } from "./terminal.js";

/** Files of settings that a command line names. */
export interface SettingFiles {
  readonly config?: string | undefined;
  readonly machine?: AskedMachine;
}

/** The options of a command line and its files of settings. */
export interface Asked<Options> extends Required<AsGiven> {
  readonly options: Options;
  /** What the user should know about the config file, in sentences. */
  readonly notes: readonly string[];
  /** The config file's `out`. */
  readonly out: string | undefined;
}

/** Options by flag name, as in a config file, and their place for messages. */
export interface OptionRow {
  readonly values: Readonly<Record<string, unknown>>;
  readonly where: string;
  /** Files that the row names must lie in this folder. */
  readonly folder: string;
}

/**
 * Options of the library: those of the machine file, of the config file, of a row for one photo of many, and what the user typed.
 * Later ones win (`overlaid`).
 * An error names the option and the value as they were written.
 *
 * @param typed values by flag name (without dashes), as text; for a switch the value of its library option. Only what was typed
 */
export async function readOptions<Schema extends ZodObject>(
  command: CommandOptions<Schema>,
  typed: ReadonlyMap<string, string | boolean>,
  files: SettingFiles = {},
  row?: OptionRow,
): Promise<Asked<input<Schema>>> {
  const config = files.config === undefined ? undefined : await readConfig(command, files.config, typed);
  const machine = await findMachine(files.machine);
  const own = [
    config?.given ?? [],
    row ? valuesIn(command.flags, await withOwnFiles(command.flags, row), sheetReader, row.where) : [],
    typedValues(command.flags, typed),
  ];
  const ofMachine = machine ? machineGiven(machine, command.flags) : [];
  const given = overlaid([ofMachine.filter((each) => !isReplaced(each, own.flat())), ...own]);
  const options: Record<string, unknown> = {};
  for (const [option, { value }] of given) options[option] = value;
  await readNamedFiles(options);
  try {
    assertOptions(command.schema, options);
    const units = unitsOf([...given.values()]);
    return { options, units, givenBy: givenByOf(given), notes: config?.notes ?? [], out: config?.out };
  } catch (error) {
    throw asWritten(error, given);
  }
}

/** What takes the place of a figure of the machine, beside the same option. */
const REPLACED: Readonly<Record<string, (own: Given) => boolean>> = {
  // A spot computed from the optics.
  spotMm: ({ flag }) => flag.option === "focalLengthMm" || flag.option === "beamDiameterMm",
  // Lines of one direction are not shifted against each other.
  lineShiftMm: ({ flag, value }) => flag.option === "oneWay" && value === true,
};

const isReplaced = ({ flag }: Given, own: readonly Given[]): boolean =>
  own.some((each) => REPLACED[flag.option]?.(each) ?? false);

/**
 * The options of a config file for this command. Options of other commands are skipped, with a note, so that one file serves all
 * commands. An option that was typed is skipped too: its value in the file may be for another command (`plan` takes several spots).
 */
async function readConfig(
  { name: command, flags }: CommandOptions,
  file: string,
  typed: ReadonlyMap<string, unknown>,
): Promise<Pick<Asked<unknown>, "notes" | "out"> & { readonly given: Given[] }> {
  const content = await readJsonFile(file, "config file");
  if (typeof content !== "object" || content === null || Array.isArray(content)) {
    throw refused.unusable("config file", file, "it must hold one JSON object of options");
  }
  const { out, ...values }: Record<string, unknown> = { ...content };
  const everyFlag = Object.values(commandOptions).flatMap((each) => each.flags);
  const everyFileOption = Object.values(commandOptions).flatMap((each) => fileOptions(each.name));
  const mine: Record<string, unknown> = {};
  const others: string[] = [];
  for (const [name, value] of Object.entries(values)) {
    const flag = flagNamed(flags, name);
    if (flag) {
      if (!typed.has(flagName(flag)) || isInParts(flag)) mine[name] = value;
    } else if (fileOptions(command).includes(name)) {
      throw refused.onlyTyped(name, plain(value), { path: file, command });
    } else if (flagNamed(everyFlag, name) || everyFileOption.includes(name)) {
      others.push(`"${name}"`);
    } else {
      const at = { role: "config file", path: file, command } as const;
      throw refused.unknownName(
        name,
        at,
        ["out", ...namesOf(flags)],
        answerTo(command, name, plain(value), inJson),
      );
    }
  }
  const reader = readerOf(file);
  return {
    given: valuesIn(flags, mine, reader, `the config file ${basename(file)}`),
    notes: others.length === 0 ? [] : [otherCommandsWords(others, file, command)],
    out: out === undefined ? undefined : plainText("out", out, reader),
  };
}

/** Print notes about the config file where they do not mix with results. */
export function writeNotes(notes: readonly string[]): void {
  for (const note of notes) tell(`spotpitch: ${visible(note)}\n`);
}

/** A value in words, if it is one number or text. */
const plain = (value: unknown): string | undefined =>
  typeof value === "string" || typeof value === "number" ? String(value) : undefined;

const inJson = (settings: readonly (readonly [flag: string, value: string | true])[]): string =>
  settings.map(([flag, value]) => `"${flag}": ${JSON.stringify(value)}`).join(", ");

function otherCommandsWords(names: readonly string[], file: string, command: string): string {
  const [are, they] = names.length === 1 ? ["is an option", "it"] : ["are options", "them"];
  return `${listWords(names, "and")} in ${file} ${are} of other commands: ${command} ignores ${they}.`;
}

/** Options of a row that may name a file. */
const FILES_OF_ROW: Readonly<Record<string, FileRole>> = {
  material: "material file",
  mask: "mask",
  startBitmap: "bitmap",
};

/** The values of a row, with the paths of its files in full: links followed, and none outside the row's folder. */
async function withOwnFiles(flags: readonly Flag[], { values, folder }: OptionRow) {
  const own = { ...values };
  for (const [name, value] of Object.entries(values)) {
    const option = flagNamed(flags, name)?.option ?? "";
    const role = FILES_OF_ROW[option];
    if (role === undefined || typeof value !== "string") continue;
    if (option !== "material" || isFileName(value)) own[name] = await pathInside(folder, value, role);
  }
  return own;
}

async function pathInside(folder: string, file: string, role: FileRole): Promise<string> {
  const root = await realpath(folder);
  const path = resolve(root, file);
  const target = await realpath(path).catch(() => path); // what is missing is told when it is read
  if (!target.startsWith(root + sep)) throw refused.outsideSheet(role, file);
  return target;
}

/** Replace names of files by the content of the files. */
async function readNamedFiles(options: Record<string, unknown>): Promise<void> {
  const { material, mask, startBitmap } = options;
  if (Array.isArray(material)) options.material = await Promise.all(material.map(fromFile));
  else if (material !== undefined) options.material = await fromFile(material);
  if (typeof mask === "string") {
    options.mask = { bytes: await readInputFile(mask, "mask"), fileName: basename(mask) };
  }
  if (typeof startBitmap === "string") {
    options.startBitmap = {
      bytes: await readInputFile(startBitmap, "bitmap"),
      fileName: basename(startBitmap),
    };
  }
}

/** The content of a material file, or the name of a preset unchanged. */
const fromFile = async (material: unknown): Promise<unknown> =>
  typeof material === "string" && isFileName(material) ? readMaterialFile(material) : material;

const isFileName = (material: string): boolean => /\.json$/i.test(material) || /[\\/]/.test(material);

/**
 * Read and check a material file. It is checked here because only this place knows its name. Throws `INPUT_*`, and `OPTION_*` if
 * the material is forbidden.
 */
async function readMaterialFile(file: string): Promise<unknown> {
  const content = await readJsonFile(file, "material file");
  try {
    resolveMaterial(content);
  } catch (error) {
    if (!(error instanceof SpotpitchError)) throw error;
    throw refusedWith(error, { file });
  }
  return content;
}
