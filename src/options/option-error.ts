import { inspect } from "node:util";
import type * as z from "zod";
import type { SpotpitchError } from "../core/errors.js";
import { refusal } from "../core/refusals/refusals.js";

/** A value as it is quoted in a sentence. */
export const shown = (value: unknown): string => (typeof value === "string" ? `"${value}"` : inspect(value));

/** The error for a value that an option does not take. @param option its name in the library */
export const invalid = (option: string, received: unknown, allowed: string): SpotpitchError =>
  refusal("option-takes", { option, allowed, got: shown(received) }, { received, allowed });

function optionError(issue: z.core.$ZodIssue, options: unknown, known: readonly string[]): SpotpitchError {
  const [option] = issue.path;
  if (issue.code === "unrecognized_keys" && option === undefined) {
    return refusal("option-unknown", { option: issue.keys[0], known });
  }
  if (option === undefined) return invalid("options", options, "an object");
  return invalid(String(option), Object(options)[option], issue.message);
}

/** Options with defaults filled in. Throws `OPTION_INVALID`, `OPTION_UNKNOWN`. */
export function checkOptions<Schema extends z.ZodObject>(schema: Schema, options: unknown): z.output<Schema> {
  const parsed = schema.safeParse(options);
  if (parsed.success) return parsed.data;
  throw optionError(parsed.error.issues[0], options, Object.keys(schema.shape));
}

/** The same check without filling in defaults. */
export function assertOptions<Schema extends z.ZodObject>(
  schema: Schema,
  options: unknown,
): asserts options is z.input<Schema> {
  checkOptions(schema, options);
}
