import type { Reader } from "../core/reader.js";
import { batchFlags } from "./batch/flags.js";
import { type Flag, flagName, isNegative, isSwitch, oppositeName, prepareFlags } from "./flags.js";
import { planFlags } from "./plan-flags.js";

const flagOf = (option: string): Flag | undefined =>
  [...prepareFlags, ...planFlags, ...batchFlags].find((flag) => flag.option === option);

function nameOf(option: string): string {
  const flag = flagOf(option);
  return flag ? flagName(flag) : option;
}

/** A person at the command line. */
export const commandReader: Reader = {
  option: (name) => (flagOf(name) ? `--${nameOf(name)}` : name),
  setting(name, value) {
    const flag = flagOf(name);
    if (!flag || !isSwitch(flag)) return `--${nameOf(name)} ${value}`;
    return `--${value === isNegative(flagName(flag)) ? oppositeName(flag) : flagName(flag)}`;
  },
  list: (of) => `"spotpitch ${of}"`,
};

/** A person at a job sheet or a config file, where options go by the flags' names without dashes. */
export const sheetReader: Reader = {
  ...commandReader,
  option: (name) => (flagOf(name) ? `"${nameOf(name)}"` : name),
  setting: (name, value) => `"${nameOf(name)}" to ${JSON.stringify(value)}`,
};
