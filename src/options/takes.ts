import * as z from "zod";
import { MAX_LINES_PER_INCH, MIN_LINES_PER_INCH } from "../core/density-limits.js";

/*
 * Checks for option values. The message of each check states what it takes, with unit and limits: a refusal reads "<option>
 * takes <message>".
 */

/** @param of words before the limits */
export const between = (min: number, max: number, unit = "", of = "") => {
  const words = `${of}${min} to ${max}${unit && ` ${unit}`}`;
  return z.number(words).min(min, words).max(max, words);
};

export const above0 = (max: number, unit: string) => {
  const words = `more than 0 and no more than ${max} ${unit}`;
  return z.number(words).positive(words).max(max, words);
};

export const whole = (min: number, max: number, remark = "") => {
  const words = `a whole number from ${min}${remark} to ${max}`;
  return z.int(words).min(min, words).max(max, words);
};

export const oneOf = <const Words extends readonly [string, ...string[]]>(words: Words) =>
  z.enum(words, `one of ${words.join(", ")}`);

export const linesPerInch = between(MIN_LINES_PER_INCH, MAX_LINES_PER_INCH, "lines per inch");

/** One number, or an object of two numbers, all within the same limits. */
export function oneOrTwo<First extends string, Second extends string>(
  [first, second]: readonly [First, Second],
  [min, max]: readonly [number, number],
  words: string,
) {
  const each = z.number(words).min(min, words).max(max, words);
  return z.union([each, strict([first, second], each, words)], words);
}

/** An object with these names and the same check for each value. */
export function strict<Name extends string, Check extends z.ZodType>(
  names: readonly Name[],
  check: Check,
  words: string,
) {
  const shape = Object.fromEntries(names.map((name) => [name, check])) as { [Each in Name]: Check };
  return z.strictObject(shape, words);
}
