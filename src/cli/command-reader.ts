import type { Reader } from "../core/reader.js";
import { commandOptions, type Flag, flagName, isSwitch, switchName } from "./flags.js";

/** An option has the same name in every command that takes it. */
const flags = new Map<string, Flag>(
  Object.values(commandOptions).flatMap((command) => command.flags.map((flag) => [flag.option, flag])),
);

const nameOf = (option: string): string => {
  const flag = flags.get(option);
  return flag ? flagName(flag) : option;
};

const list: Reader["list"] = (of) => `"spotpitch ${of}"`;

/** Someone who types the command. */
export const commandReader: Reader = {
  option: (name) => `--${nameOf(name)}`,
  setting(name, value) {
    const flag = flags.get(name);
    return flag && isSwitch(flag) ? `--${switchName(flag, value)}` : `--${nameOf(name)} ${value}`;
  },
  list,
};

/** Someone who fills in a job sheet or a config file. */
export const sheetReader: Reader = {
  option: (name) => `"${nameOf(name)}"`,
  setting: (name, value) => `"${nameOf(name)}": ${JSON.stringify(value)}`,
  list,
};

/** The same, where a sentence has to say which file or row it is about. */
export const readerOf = (where: string): Reader => ({
  ...sheetReader,
  option: (name) => `${sheetReader.option(name)} in ${where}`,
});
