import { fullToneText, type GivenBy, type Reader } from "../core/reader.js";
import { METRIC, type ShownUnits } from "../core/shown-units.js";
import { densityWords } from "../core/words.js";
import {
  commandOptions,
  type Flag,
  flagName,
  isNegative,
  isSwitch,
  oppositeName,
  switchName,
} from "./flags.js";
import { quoted } from "./quoted.js";

/** An option has the same flag in every command that takes it. */
const flags = new Map<string, Flag>(
  Object.values(commandOptions).flatMap((command) => command.flags.map((flag) => [flag.option, flag])),
);

/** The name that sets a switch to true: `auto-tone` for the flag `--no-auto-tone`. */
const plainName = (flag: Flag): string =>
  isSwitch(flag) && isNegative(flagName(flag)) ? oppositeName(flag) : flagName(flag);

const list: Reader["list"] = (of) => `"spotpitch ${of}"`;

const powerTest: Reader["powerTest"] = (linesPerInch) =>
  `"spotpitch power-test --density ${densityWords(linesPerInch)}"`;

const testCard: Reader["testCard"] = (material) =>
  `"spotpitch card${material === undefined ? "" : ` --material ${quoted(material)}`}"`;

const checking: Reader["checking"] = () => "--check";

/** A user who types the command. */
export const commandReader: Reader = {
  option(name) {
    const flag = flags.get(name);
    return flag ? `--${flagName(flag)}` : name;
  },
  setting(name, value) {
    const flag = flags.get(name);
    return flag && isSwitch(flag) ? `--${switchName(flag, value)}` : `${commandReader.option(name)} ${value}`;
  },
  list,
  units: METRIC,
  powerTest,
  testCard,
  checking,
  fullTone: (found) => commandReader.setting("powerPercent", fullToneText(found, METRIC)),
};

/** What the user gave, for what is said in return. Plain data, so that another process can do the work. */
export interface AsGiven {
  /** The units of the sizes and speeds, as they were written. */
  readonly units: ShownUnits;
  /** Where the machine's figures were given, by option. */
  readonly givenBy?: GivenBy | undefined;
}

/** The same user, who gave options in these units and places. */
export const commandReaderFor = ({ units, givenBy }: AsGiven): Reader => ({
  ...commandReader,
  units,
  ...(givenBy && { givenBy }),
  fullTone: (found) => commandReader.setting("powerPercent", fullToneText(found, units)),
});

/** A user who fills in a job sheet or a config file. */
export const sheetReader: Reader = {
  option(name) {
    const flag = flags.get(name);
    return `"${flag ? plainName(flag) : name}"`;
  },
  setting: (name, value) => `${sheetReader.option(name)} to ${JSON.stringify(value)}`,
  list,
  units: METRIC,
  powerTest,
  testCard,
  checking,
  fullTone: (found) => sheetReader.setting("powerPercent", fullToneText(found, METRIC)),
};

/** The same, for a sentence that must name the file or row. */
export const readerOf = (where: string): Reader => ({
  ...sheetReader,
  option: (name) => `${sheetReader.option(name)} in ${where}`,
});
