import * as z from "zod";
import { linesPerInchFromPitchMm } from "../core/units.js";
import type { Field, OptionEntry, OptionRemarks, TextForm } from "./option.js";
import { parseCrop, parseFocus, parsePlaceOnRound } from "./parse-places.js";
import * as quantities from "./quantities.js";

/*
 * Functions that make entries for the option tables, one for each text form of a value. Arguments: the flag, what the library
 * takes, the help, and remarks.
 */

const kind =
  (text: TextForm) =>
  <Takes extends Field, const Remarks extends OptionRemarks = Record<never, never>>(
    flag: string,
    takes: Takes,
    help: string,
    remarks?: Remarks,
  ): OptionEntry<Takes> & NoInfer<Remarks> =>
    Object.assign({ flag, text, takes, help }, remarks);

/** The same form for a comma-separated list; a single value stays single. */
export const listOf = (form: TextForm): TextForm => ({
  ...form,
  read(option, text) {
    // Where 0 is no value, "0,12mm" is one number with a decimal comma: the whole is refused, and not its "0".
    if (/^\s*0,\d/.test(text) && !reads(form, option, "0")) form.read(option, text);
    const values = text.split(",").map((part) => form.read(option, part.trim()));
    return values.length === 1 ? values[0] : values;
  },
});

function reads(form: TextForm, option: string, text: string): boolean {
  try {
    form.read(option, text);
    return true;
  } catch {
    return false;
  }
}

const plainText: TextForm = { read: (_option, text) => text };
const lengthText: TextForm = { read: quantities.parseLengthMm, unit: "mm" };
const spotText: TextForm = { read: quantities.parseSpot, unit: "mm", structured: true };
const densityText: TextForm = {
  read: (option, text) => linesPerInchFromPitchMm(quantities.parsePitchMm(option, text)),
};

export const word = kind(plainText);
/** A preset's name, or a file's. */
export const material = kind({ ...plainText, structured: true });
export const number = kind({ read: quantities.parseNumber });
export const length = kind(lengthText);
/** A width and a height. */
export const cardSize = kind({ read: quantities.parseSize, units: quantities.sizeUnits, structured: true });
/** The length of a side of the piece. */
export const size = kind({ ...lengthText, units: quantities.sizeUnits });
export const speed = kind({
  read: quantities.parseSpeedMmPerS,
  unit: "mm/s",
  units: quantities.speedUnits,
});
export const acceleration = kind({
  read: quantities.parseAccelerationMmPerS2,
  unit: "mm/s2",
  units: quantities.accelerationUnits,
});
export const lengths = kind(listOf(lengthText));
export const wavelength = kind({ read: quantities.parseWavelengthMm });
export const around = kind({ read: quantities.parseAround, units: quantities.sizeUnits });
export const spot = kind(spotText);
export const spots = kind(listOf(spotText));
export const density = kind(densityText);
/** Always a list, even for one value. */
export const densities = kind({ read: (option, text) => [listOf(densityText).read(option, text)].flat() });
export const microseconds = kind({ read: quantities.parseMicroseconds, unit: "us" });
export const fullTone = kind({ read: quantities.parseFullTone, structured: true });
export const tones = kind({ read: quantities.parseTones });
export const crop = kind({ read: parseCrop });
export const focus = kind({ read: parseFocus });
export const placeOnRound = kind({ read: parsePlaceOnRound });
/** Percent as text, a fraction in the library. */
export const share = kind({ read: quantities.parseSpread, unit: "%", times: 100 });
/** Parts in percent as text, fractions in the library. */
export const spread = kind({ read: quantities.parseSpreadParts, structured: true });
export const angle = kind({ read: quantities.parseAngleDeg });
/** Percent as text and in the library. */
export const percent = kind({
  read: (option, text) => 100 * quantities.parsePercent(option, text),
  unit: "%",
});

const yesOrNo = kind({ read: (_option, text) => text === "true" });
const trueOrFalse = z.boolean("true or false");

/** A switch: `--mirror` sets its option to true, `--no-auto-tone` to false. */
export const toggle = <const Remarks extends OptionRemarks = Record<never, never>>(
  flag: string,
  unlessGiven: boolean,
  help: string,
  remarks?: Remarks,
) => yesOrNo(flag, trueOrFalse.default(unlessGiven), help, remarks);
