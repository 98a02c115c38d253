import { spawnSync } from "node:child_process";

/**
 * Whether `command` runs and exits with 0, for tests that compare with another program: `it.skipIf(!hasTool(...))`.
 * Throws where it does not and the environment names a CI, so that no comparison is skipped there unseen.
 */
export function hasTool(command: string, args: readonly string[] = ["--version"]): boolean {
  const runs = spawnSync(command, args, { stdio: "ignore" }).status === 0;
  if (!runs && process.env.CI) throw new Error(`CI must have "${[command, ...args].join(" ")}".`);
  return runs;
}
