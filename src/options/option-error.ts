import { inspect } from "node:util";
import type * as z from "zod";
import { SpotpitchError } from "../core/errors.js";
import { materialPresets } from "../core/material/material-presets.js";
import { libraryReader, type Reader } from "../core/reader.js";
import { didYouMean } from "./nearest-name.js";

/** For a value that an option does not take: the option by its name in the library, what it got, and what it takes. */
export function invalid(option: string, received: unknown, allowed: string): SpotpitchError {
  const words = invalidWords(libraryReader.option(option), received, allowed);
  return new SpotpitchError("OPTION_INVALID", words, { option, received, allowed });
}

/** For a name that no option has. */
export function unknownOption(option: string, names: readonly string[]): SpotpitchError {
  const message = `Unknown option ${option}.${didYouMean(option, names)}`;
  return new SpotpitchError("OPTION_UNKNOWN", message, { option });
}

/** For options that a schema refuses. */
export function optionError(
  issue: z.core.$ZodIssue,
  options: unknown,
  names: readonly string[],
): SpotpitchError {
  if (issue.code === "unrecognized_keys") return unknownOption(issue.keys[0], names);
  const [option] = issue.path;
  if (option === undefined) return invalid("options", options, "an object");
  return invalid(String(option), Object(options)[option], issue.message);
}

/** Options with defaults filled in. Throws `OPTION_INVALID`, `OPTION_UNKNOWN`. */
export function checkOptions<Schema extends z.ZodObject>(schema: Schema, options: unknown): z.output<Schema> {
  const parsed = schema.safeParse(options);
  if (parsed.success) return parsed.data;
  throw optionError(parsed.error.issues[0], options, Object.keys(schema.shape));
}

/** The same check for options that stay as they are. */
export function assertOptions<Schema extends z.ZodObject>(
  schema: Schema,
  options: unknown,
): asserts options is z.input<Schema> {
  checkOptions(schema, options);
}

/** An error about an option in the words of a reader. */
export function sayOptionError(
  {
    code,
    message,
    option,
    received,
    allowed,
  }: Pick<SpotpitchError, "code" | "message" | "option" | "received" | "allowed">,
  reader: Reader,
): string {
  if (option === undefined) return message;
  const name = reader.option(option);
  if (code === "OPTION_INVALID" && allowed !== undefined) return invalidWords(name, received, allowed);
  if (code === "OPTION_METHOD_UNKNOWN" || code === "OPTION_MATERIAL_UNKNOWN") {
    const ofMethod = code === "OPTION_METHOD_UNKNOWN";
    const near = didYouMean(String(received), ofMethod ? (allowed?.split(", ") ?? []) : presetNames());
    const list = reader.list(ofMethod ? "methods" : "materials");
    return `${name} "${received}" is not a ${ofMethod ? "halftone method" : "preset"}.${near} ${list} lists them${ofMethod ? "" : "; a material file of your own ends in .json"}.`;
  }
  return message.startsWith(`${option} `) ? name + message.slice(option.length) : message;
}

const presetNames = (): string[] => materialPresets.flatMap(({ id, aliases = [] }) => [id, ...aliases]);

const invalidWords = (name: string, received: unknown, allowed: string): string =>
  `${name} takes ${allowed}; got ${typeof received === "string" ? `"${received}"` : inspect(received)}.`;
