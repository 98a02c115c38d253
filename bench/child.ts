import { spawnSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";

export type Command = readonly [program: string, ...args: string[]];

/** Cost of one run of a command. CPU and memory are absent without GNU time. */
export interface Cost {
  readonly wallS: number;
  /** User and system time of the command and its child processes. */
  readonly cpuS?: number;
  /** Largest resident set of any one process among them. */
  readonly peakMiB?: number;
}

/** Output of a command, both streams, or undefined if it is missing or fails. */
export function outputOf([program, ...args]: Command): string | undefined {
  const { status, stdout, stderr } = spawnSync(program, args, { encoding: "utf8" });
  return status === 0 ? `${stdout}${stderr}`.trim() : undefined;
}

export const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Name of GNU time. The `time` of other systems has no format option. */
export function findGnuTime(): string | undefined {
  return ["/usr/bin/time", "gtime"].find((program) => outputOf([program, "--version"])?.includes("GNU"));
}

/**
 * Runs a command and measures its cost. GNU time starts it, because a direct child would count the peak memory of this process as
 * its own.
 *
 * @param scratchFile written by GNU time, removed again
 * @param environment added to this process's own
 * @throws Error with the stderr of the command if it fails
 */
export function runMeasured(
  command: Command,
  gnuTime: string | undefined,
  scratchFile: string,
  environment: Readonly<Record<string, string>> = {},
): Cost {
  const [program, ...args] = gnuTime
    ? [gnuTime, "-o", scratchFile, "-f", "%U %S %M", ...command]
    : [...command];
  const startMs = performance.now();
  const { status, stderr, error } = spawnSync(program, args, {
    stdio: ["ignore", "ignore", "pipe"],
    env: { ...process.env, ...environment },
    encoding: "utf8",
  });
  const wallS = (performance.now() - startMs) / 1000;
  if (status !== 0)
    throw new Error(`exit status ${status} of ${command.join(" ")}: ${error?.message ?? stderr.trim()}`);
  if (!gnuTime) return { wallS };
  const [userS, systemS, peakKiB] = readFileSync(scratchFile, "utf8").trim().split(" ").map(Number);
  rmSync(scratchFile);
  return { wallS, cpuS: userS + systemS, peakMiB: peakKiB / 1024 };
}
