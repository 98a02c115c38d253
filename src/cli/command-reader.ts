import type { Reader } from "../core/reader.js";
import { batchFlags } from "./batch/flags.js";
import { type Flag, flagName, isNegative, isSwitch, oppositeName, prepareFlags } from "./flags.js";
import { planFlags } from "./plan-flags.js";

const flagOf = (option: string): Flag | undefined =>
  [...prepareFlags, ...planFlags, ...batchFlags].find((flag) => flag.option === option);

/** A switch by the name that sets its option to true: `auto-tone`, where the flag is `--no-auto-tone`. */
const plainName = (flag: Flag): string =>
  isSwitch(flag) && isNegative(flagName(flag)) ? oppositeName(flag) : flagName(flag);

/** A person at the command line. */
export const commandReader: Reader = {
  option(name) {
    const flag = flagOf(name);
    return flag ? `--${flagName(flag)}` : name;
  },
  setting(name, value) {
    const flag = flagOf(name);
    if (!flag || !isSwitch(flag)) return `${commandReader.option(name)} ${value}`;
    return `--${value === isNegative(flagName(flag)) ? oppositeName(flag) : flagName(flag)}`;
  },
  list: (of) => `"spotpitch ${of}"`,
};

/** A person at a job sheet or a config file, where options go by the flags' names without dashes. */
export const sheetReader: Reader = {
  ...commandReader,
  option(name) {
    const flag = flagOf(name);
    return flag ? `"${plainName(flag)}"` : name;
  },
  setting: (name, value) => `${sheetReader.option(name)} to ${JSON.stringify(value)}`,
};
