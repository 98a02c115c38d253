import { inspect } from "node:util";
import * as z from "zod";
import { refusal } from "../core/refusals/refusals.js";
import { type PrepareOptions, prepareSchema } from "./tables.js";

/** Options that a machine file may hold, by their names in the library. */
export type MachineFigures = Pick<
  PrepareOptions,
  | ("spotMm" | "spread" | "firingLagUs" | "firingLossUs" | "lineShiftMm" | "oneWay")
  | ("speedMmPerS" | "accelerationMmPerS2" | "linesPerInchOffered")
>;

/** Their names. */
export const machineFigures: readonly (keyof MachineFigures)[] = [
  ...(["spotMm", "spread", "firingLagUs", "firingLossUs", "lineShiftMm", "oneWay"] as const),
  ...(["speedMmPerS", "accelerationMmPerS2", "linesPerInchOffered"] as const),
];

/** What a machine file holds: a name, any figures of the machine, and where they come from. */
export interface MachineData extends MachineFigures {
  readonly name: string;
  readonly source?: string;
}

/** A machine whose figures were checked. They are options of every command: `prepare(photo, { ...machine.options, widthMm: 80 })`. */
export interface Machine {
  readonly name: string;
  readonly source?: string;
  readonly options: Readonly<MachineFigures>;
}

const text = (words: string) => z.string(words).min(1, words);
const figures = Object.fromEntries(
  machineFigures.map((figure) => [figure, prepareSchema.shape[figure].optional()]),
);
/** The message of each field says what it takes. */
const machineSchema = z.strictObject({
  name: text("a name"),
  source: text("a note on where the figures come from").optional(),
  ...figures,
});

/** Check a machine file's content. Throws `INPUT_MACHINE_INVALID` naming the field at fault. */
export function resolveMachine(data: unknown): Machine {
  const parsed = machineSchema.safeParse(data);
  if (!parsed.success) throw faultOf(parsed.error.issues[0], data);
  // As they were given: what is not given stays with the defaults, or with the user's other options.
  const { name, source, ...options } = data as MachineData;
  return Object.freeze({ name, ...(source !== undefined && { source }), options: Object.freeze(options) });
}

function faultOf(issue: z.core.$ZodIssue, data: unknown) {
  const [field] = issue.path;
  if (issue.code === "unrecognized_keys" && field === undefined) {
    return refusal("machine-unknown-field", {
      field: issue.keys[0],
      known: Object.keys(machineSchema.shape),
    });
  }
  if (field === undefined) return refusal("machine-not-an-object", {});
  const got: unknown = Reflect.get(Object(data), field);
  return field === "name" && got === undefined
    ? refusal("machine-missing-name", {})
    : refusal("machine-wrong-field", { field: String(field), wanted: issue.message, got: inspect(got) });
}
