import { spawnSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";

export type Command = readonly [program: string, ...args: string[]];

/** What one run of a command took. CPU and memory are absent where GNU time is. */
export interface Cost {
  readonly wallS: number;
  /** User and system time of the command and all that it started. */
  readonly cpuS?: number;
  /** Largest resident set of any one process among them. */
  readonly peakMiB?: number;
}

/** What a command prints, both streams, or undefined where it is missing or fails. */
export function outputOf([program, ...args]: Command): string | undefined {
  const { status, stdout, stderr } = spawnSync(program, args, { encoding: "utf8" });
  return status === 0 ? `${stdout}${stderr}`.trim() : undefined;
}

export const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Where GNU time is: other systems' `time` has no format option. */
export function findGnuTime(): string | undefined {
  return ["/usr/bin/time", "gtime"].find((program) => outputOf([program, "--version"])?.includes("GNU"));
}

/**
 * Run a command to its end and say what it took. GNU time stands between, because a child of this process would inherit
 * this process's own peak memory as its own.
 *
 * @param scratchFile written by GNU time, removed again
 * @param environment added to this process's own
 * @throws Error with what the command wrote to stderr, where it fails
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
