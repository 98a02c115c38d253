import { linesPerInchFromPitchMm } from "../core/units.js";
import { parseCrop, parseFocus } from "./parse-places.js";
import * as quantities from "./quantities.js";

/** How a value is written on a command line, in a config file or in a job sheet. */
export interface TextForm {
  /** Throws `OPTION_INVALID` for a text that cannot be read. */
  readonly read: (option: string, text: string) => unknown;
  /** Where the help writes a default: the unit behind it, and how many of these units are one of the library's. */
  readonly unit?: string;
  readonly times?: number;
  /** True where a config file may hold the value itself, as the library takes it. */
  readonly structured?: boolean;
}

export const plainText: TextForm = { read: (_option, text) => text };
/** A preset's name, or a file's. */
export const material: TextForm = { ...plainText, structured: true };
export const yesOrNo: TextForm = { read: (_option, text) => text === "true" };
export const number: TextForm = { read: quantities.parseNumber };
export const length: TextForm = { read: quantities.parseLengthMm, unit: "mm" };
export const wavelength: TextForm = { read: quantities.parseWavelengthMm };
export const spot: TextForm = { read: quantities.parseSpot, unit: "mm", structured: true };
export const around: TextForm = { read: quantities.parseAround };
export const microseconds: TextForm = { read: quantities.parseMicroseconds, unit: "us" };
export const tones: TextForm = { read: quantities.parseTones };
export const crop: TextForm = { read: parseCrop };
export const focus: TextForm = { read: parseFocus };

/** Written in percent, and a fraction in the library. */
export const share: TextForm = { read: quantities.parseSpread, unit: "%", times: 100 };
/** Written in percent, and in percent in the library. */
export const percent: TextForm = {
  read: (option, text) => 100 * quantities.parsePercent(option, text),
  unit: "%",
};
export const density: TextForm = {
  read: (option, text) => linesPerInchFromPitchMm(quantities.parsePitchMm(option, text)),
};
