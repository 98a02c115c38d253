import { refusal } from "../core/refusals/refusals.js";
import type { ShownUnits } from "../core/shown-units.js";
import type { Spot } from "../core/spot.js";
import { LOCAL_LENGTH_LIMITS_MM, MAX_SPREAD_PART, type Spread } from "../core/spread.js";
import {
  type AccelerationUnit,
  linesPerInchFromPitchMm,
  mmFromCm,
  mmFromInches,
  mmFromMicrometres,
  mmFromNanometres,
  mmPerS2From,
  mmPerSFrom,
  pitchMmFromLinesPerInch,
  pitchMmFromLinesPerMm,
  type SpeedUnit,
  spotDiameterMmFromFwhmMm,
} from "../core/units.js";
import { invalid } from "./option-error.js";

/** A number with a decimal comma, and its unit. Three digits behind the comma may be thousands, except after a 0. */
const DECIMAL_COMMA = /^\s*([+-]?(?:0,\d+|\d+,(?!\d{3}(?:\D|$))\d+))(\D*)$/;

/** The error for a text that is no such quantity. */
function unread(option: string, text: string, allowed: string) {
  const [, number, unit] = DECIMAL_COMMA.exec(text) ?? [];
  if (number === undefined) return invalid(option, text, allowed);
  return invalid(
    option,
    text,
    `${allowed}; write a decimal point: ${number.replace(",", ".")}${unit.trim()}`,
  );
}

/** Digits can be divided in one way only: many of them before a wrong letter would be tried for minutes otherwise. */
const NUMBER = "[+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+)(?:e[+-]?\\d+)?";
const LENGTH = new RegExp(`^(${NUMBER})\\s*(mm|cm|in|um|µm|μm)?$`, "i");
const PER_MM = new RegExp(`^(${NUMBER})\\s*/\\s*mm$`, "i");
const PER_INCH = new RegExp(`^(${NUMBER})\\s*(?:dpi|lpi|/\\s*in)?$`, "i");
const PLAIN = new RegExp(`^${NUMBER}$`, "i");

/** A length such as `80`, `80mm`, `8 cm`, `3.15in`, `100um`, in mm. Throws `OPTION_INVALID`. */
export function parseLengthMm(option: string, text: string): number {
  const match = LENGTH.exec(text.trim());
  if (!match) throw unread(option, text, "a length such as 80, 80mm, 8cm or 3.15in");
  const value = Number(match[1]);
  const unit = match[2]?.toLowerCase();
  if (unit === undefined || unit === "mm") return value;
  if (unit === "cm") return mmFromCm(value);
  return unit === "in" ? mmFromInches(value) : mmFromMicrometres(value);
}

/** Inches if a text gives all its lengths in inches. Numbers without a unit take it from the last one. */
export const sizeUnits = (text: string): Partial<ShownUnits> => ({
  length: /in\s*$/i.test(text) && !/(mm|cm|um|µm|μm)/i.test(text) ? "in" : "mm",
});

const SPEED = new RegExp(`^(${NUMBER})\\s*(?:(mm|cm|m|in)\\s*/\\s*(s|min)(?:(?<=s)ec)?)?$`, "i");
const ACCELERATION = new RegExp(`^(${NUMBER})\\s*(?:(mm|cm|m|in)\\s*/\\s*s(?:ec)?\\s*(?:\\^?2|²))?$`, "i");

const speedUnit = ([, , length = "mm", time = "s"]: RegExpExecArray): SpeedUnit =>
  `${length}/${time}`.toLowerCase() as SpeedUnit;
const accelerationUnit = ([, , length = "mm"]: RegExpExecArray): AccelerationUnit =>
  `${length.toLowerCase()}/s²` as AccelerationUnit;

/** A speed such as `300`, `300mm/s`, `18000mm/min`, `12in/s`, in mm/s. Throws `OPTION_INVALID`. */
export function parseSpeedMmPerS(option: string, text: string): number {
  const match = SPEED.exec(text.trim());
  if (!match) throw unread(option, text, "a speed such as 300, 300mm/s, 18000mm/min or 12in/s");
  return mmPerSFrom(Number(match[1]), speedUnit(match));
}

/** The unit of a speed that can be read. */
export function speedUnits(text: string): Partial<ShownUnits> {
  const match = SPEED.exec(text.trim());
  return match ? { speed: speedUnit(match) } : {};
}

/** An acceleration such as `5000`, `5000mm/s2`, `200in/s²`, in mm/s². Throws `OPTION_INVALID`. */
export function parseAccelerationMmPerS2(option: string, text: string): number {
  const match = ACCELERATION.exec(text.trim());
  if (!match) throw unread(option, text, "an acceleration such as 5000, 5000mm/s2, 5m/s2 or 200in/s2");
  return mmPerS2From(Number(match[1]), accelerationUnit(match));
}

/** The unit of an acceleration that can be read. */
export function accelerationUnits(text: string): Partial<ShownUnits> {
  const match = ACCELERATION.exec(text.trim());
  return match ? { acceleration: accelerationUnit(match) } : {};
}

/**
 * A density as a pitch in mm: `254` (lines per inch, also `254lpi`, `254dpi`, `254/in`), `10/mm`, or the pitch itself, `0.1mm`.
 * Throws `OPTION_INVALID`.
 */
export function parsePitchMm(option: string, text: string): number {
  const trimmed = text.trim();
  const allowed = "lines per inch such as 254, lines per mm such as 10/mm, or a pitch such as 0.1mm";
  const perMm = PER_MM.exec(trimmed);
  if (perMm) return pitchMmFromLinesPerMm(positive(option, Number(perMm[1]), text, allowed));
  const perInch = PER_INCH.exec(trimmed);
  if (perInch) return pitchMmFromLinesPerInch(positive(option, Number(perInch[1]), text, allowed));
  if (LENGTH.test(trimmed)) return positive(option, parseLengthMm(option, trimmed), text, allowed);
  throw unread(option, text, allowed);
}

/** A spot such as `0.115mm`, `0.08x0.15mm` (along × across), or `0.07mm fwhm`. Throws `OPTION_INVALID`. */
export function parseSpot(option: string, text: string): Spot {
  const allowed =
    "a 1/e² diameter such as 0.115mm or 115um, along x across such as 0.08x0.15mm, or a half-maximum width such as 0.07mm fwhm";
  const trimmed = text.trim();
  const fwhm = /fwhm$/i.test(trimmed);
  const parts = partsOf(fwhm ? trimmed.slice(0, -4) : trimmed, /[x×]/i);
  if (parts.length > 2 || parts.some((part) => !LENGTH.test(part))) throw unread(option, text, allowed);
  const diameters = inOneUnit(option, parts).map((mm) => {
    positive(option, mm, text, allowed);
    return fwhm ? spotDiameterMmFromFwhmMm(mm) : mm;
  });
  return { alongMm: diameters[0], acrossMm: diameters[diameters.length - 1] };
}

/**
 * A round piece: a diameter such as `60mm`, or a cone's diameters at top and bottom, `80..60mm`. Throws `OPTION_INVALID`.
 */
export function parseAround(
  option: string,
  text: string,
): number | { readonly topMm: number; readonly bottomMm: number } {
  const allowed = "a diameter such as 60mm, or a cone's at top and bottom such as 80..60mm";
  const parts = partsOf(text, "..");
  if (parts.length > 2 || parts.some((part) => !LENGTH.test(part))) throw unread(option, text, allowed);
  const [topMm, bottomMm = topMm] = inOneUnit(option, parts);
  positive(option, Math.min(topMm, bottomMm), text, allowed);
  return topMm === bottomMm ? topMm : { topMm, bottomMm };
}

/** A width and a height such as `80x60` or `3x2in`. Throws `OPTION_INVALID`. */
export function parseSize(
  option: string,
  text: string,
): { readonly widthMm: number; readonly heightMm: number } {
  const allowed = "a width and a height such as 80x60mm or 3x2in";
  const parts = partsOf(text, /[x×]/i);
  if (parts.length !== 2 || parts.some((part) => !LENGTH.test(part))) throw unread(option, text, allowed);
  const [widthMm, heightMm] = inOneUnit(option, parts);
  return { widthMm, heightMm };
}

const partsOf = (text: string, between: string | RegExp): string[] =>
  text.split(between).map((part) => part.trim());

/** Lengths in mm. The unit of the last one applies to all without a unit: 0.08x0.15mm. */
function inOneUnit(option: string, parts: readonly string[]): number[] {
  const unit = /[a-zµμ]+$/i.exec(parts[parts.length - 1])?.[0] ?? "mm";
  return parts.map((part) => parseLengthMm(option, PLAIN.test(part) ? part + unit : part));
}

const WAVELENGTH = new RegExp(`^(${NUMBER})\\s*(um|µm|μm|nm)$`, "i");

/** A wavelength such as `10.6um` or `450nm`, in mm. Throws `OPTION_INVALID`. */
export function parseWavelengthMm(option: string, text: string): number {
  const match = WAVELENGTH.exec(text.trim());
  if (!match) throw unread(option, text, "a wavelength such as 10.6um or 450nm");
  const value = Number(match[1]);
  return match[2].toLowerCase() === "nm" ? mmFromNanometres(value) : mmFromMicrometres(value);
}

/** A time in microseconds, `30`, `-20us`, `30µs` or `0.03ms`. Throws `OPTION_INVALID`. */
export function parseMicroseconds(option: string, text: string): number {
  const match = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+))\s*(us|µs|μs|ms)?$/i.exec(text.trim());
  if (!match) throw unread(option, text, "a time in microseconds such as 30, 30us or 0.03ms");
  return /^ms$/i.test(match[2] ?? "") ? 1000 * Number(match[1]) : Number(match[1]);
}

/** Tones in a detail, such as `12@0.25mm`. The default detail is 0.25 mm. Throws `OPTION_INVALID`. */
export function parseTones(
  option: string,
  text: string,
): { readonly count: number; readonly detailMm: number } {
  const [count, detail = "0.25mm", ...rest] = text.split("@");
  if (rest.length > 0 || !PLAIN.test(count.trim())) {
    throw unread(option, text, "tones and a detail such as 12@0.25mm");
  }
  return { count: Number(count), detailMm: parseLengthMm(option, detail) };
}

/**
 * A power in percent such as `40%`, with the density `40%@254` and the speed `40%@254@300mm/s` at which it was found. Throws
 * `OPTION_INVALID`.
 */
export function parseFullTone(option: string, text: string): FoundPower {
  const [power, density, speed, ...more] = text.split("@").map((part) => part.trim());
  if (more.length > 0 || (speed !== undefined && !SPEED.test(speed))) {
    throw unread(option, text, "a percentage, and where it was found: 40%, 40%@254 or 40%@254@300mm/s");
  }
  const percent = Number((100 * parsePercent(option, power)).toPrecision(12));
  if (density === undefined) return percent;
  const linesPerInch = linesPerInchFromPitchMm(parsePitchMm(option, density));
  return {
    percent,
    linesPerInch,
    ...(speed !== undefined && { speedMmPerS: parseSpeedMmPerS(option, speed) }),
  };
}

type FoundPower =
  | number
  | { readonly percent: number; readonly linesPerInch: number; readonly speedMmPerS?: number };

/** A share such as `10%`, `10` (percent) as a fraction. Throws `OPTION_INVALID`. */
export function parsePercent(option: string, text: string): number {
  const match = new RegExp(`^(${NUMBER})\\s*%?$`, "i").exec(text.trim());
  if (!match) throw unread(option, text, "a percentage such as 10 or 10%");
  return Number(match[1]) / 100;
}

/**
 * A spread such as `10%` or `10` (percent) as a fraction. Values below 1 need a percent sign, because `0.1` may mean a tenth.
 * Throws `OPTION_INVALID`.
 */
export function parseSpread(option: string, text: string): number {
  const spread = parsePercent(option, text);
  if (spread > 0 && spread < 0.01 && !text.includes("%")) {
    const asTyped = text.trim();
    const asFraction = Number((Number(asTyped) * 100).toPrecision(6));
    throw unread(option, text, `percent: write ${asFraction}% or, if so little was meant, ${asTyped}%`);
  }
  return spread;
}

/** An angle such as `45`, `45deg` or `45°`, in degrees. Throws `OPTION_INVALID`. */
export function parseAngleDeg(option: string, text: string): number {
  const match = new RegExp(`^(${NUMBER})\\s*(?:deg|°)?$`, "i").exec(text.trim());
  if (!match) throw unread(option, text, "an angle such as 45, 45deg or 45°");
  return Number(match[1]);
}

const SPREAD_PARTS = ["common", "local", "line", "spot"] as const;
const PART_NAMES = [...SPREAD_PARTS, "local-length"];

/** Parts of a spread such as `local=3%,line=5%,local-length=2mm`, as fractions and mm. Throws `OPTION_INVALID`. */
export function parseSpreadParts(option: string, text: string): Partial<Spread> {
  const parts: { -readonly [Part in keyof Spread]?: number } = {};
  const faulty = { received: text };
  for (const item of text.split(",")) {
    const [name, value, ...more] = item.split("=").map((word) => word.trim());
    if (!name || more.length > 0) {
      throw unread(option, text, "parts such as local=3%,line=5%,spot=4%,common=8%,local-length=2mm");
    }
    const part = name === "local-length" ? "localLengthMm" : SPREAD_PARTS.find((each) => each === name);
    if (!part) throw refusal("spread-part-unknown", { part: name, known: PART_NAMES }, faulty);
    if (!value) {
      const example = part === "localLengthMm" ? "2mm" : "4%";
      throw refusal("spread-part-empty", { part: name, example }, faulty);
    }
    if (part in parts) throw refusal("spread-part-twice", { part: name }, faulty);
    parts[part] = part === "localLengthMm" ? parseLengthMm(option, value) : parseSpread(option, value);
    if (!isWithin(parts[part], part)) {
      throw refusal("spread-part-outside", { part: name, limits: limitsWords(part), got: value }, faulty);
    }
  }
  return parts;
}

const limitsOf = (part: keyof Spread): readonly [number, number] =>
  part === "localLengthMm" ? LOCAL_LENGTH_LIMITS_MM : [0, MAX_SPREAD_PART];

function isWithin(value: number, part: keyof Spread): boolean {
  const [min, max] = limitsOf(part);
  return value >= min && value <= max;
}

function limitsWords(part: keyof Spread): string {
  const [min, max] = limitsOf(part);
  return part === "localLengthMm" ? `${min} to ${max} mm` : `${100 * min} to ${100 * max} %`;
}

/** The text that `parseSpreadParts` reads. */
export function spreadWords({
  localLengthMm,
  ...parts
}: { readonly [Part in keyof Spread]?: Spread[Part] | undefined }): string {
  const shares = SPREAD_PARTS.flatMap((name) => {
    const part = parts[name];
    return part === undefined ? [] : [`${name}=${Number((100 * part).toPrecision(6))}%`];
  });
  return [...shares, ...(localLengthMm === undefined ? [] : [`local-length=${localLengthMm}mm`])].join(",");
}

/** A plain number. Throws `OPTION_INVALID`. */
export function parseNumber(option: string, text: string): number {
  if (!PLAIN.test(text.trim())) throw unread(option, text, "a number");
  return Number(text);
}

function positive(option: string, value: number, text: string, allowed: string): number {
  if (!(value > 0) || !Number.isFinite(value)) throw unread(option, text, `${allowed}, above 0`);
  return value;
}
