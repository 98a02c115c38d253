import { parseArgs } from "node:util";

/** Start-up comes first: a large process starts children more slowly, which matters most there. */
export const partNames = ["start-up", "plain", "ours", "growth", "kernels"] as const;
export type PartName = (typeof partNames)[number];

export interface BenchOptions {
  readonly parts: readonly PartName[];
  readonly runs: number;
  readonly quick: boolean;
  readonly all: boolean;
}

export class BadOption extends Error {}

/** Throws `BadOption`. */
export function readOptions(args: readonly string[]): BenchOptions {
  const { only, quick = false, all = false, runs: runsText } = parsedArguments(args);
  const unknown = only?.find((name) => !isPart(name));
  if (unknown !== undefined)
    throw new BadOption(`--only wants one of ${partNames.join(", ")}, not "${unknown}".`);
  const runs = Number(runsText ?? (quick ? 1 : 5));
  if (!Number.isInteger(runs) || runs < 1)
    throw new BadOption(`--runs wants a whole number from 1, not "${runsText}".`);
  return { parts: partNames.filter((name) => only?.includes(name) ?? true), runs, quick, all };
}

const isPart = (name: string): boolean => partNames.some((each) => each === name);

function parsedArguments(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      options: {
        only: { type: "string", multiple: true },
        runs: { type: "string" },
        quick: { type: "boolean" },
        all: { type: "boolean" },
      },
    }).values;
  } catch (error) {
    throw new BadOption(error instanceof Error ? error.message : String(error));
  }
}
