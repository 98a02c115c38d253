import { spawn } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const built = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Run the built command as a user would, without a terminal; a run of over a minute is killed (status null). */
export const spotpitch = (...args: readonly string[]): Promise<Ran> => spotpitchWith({}, ...args);

/** The same, with variables of the environment beside those that there are. */
export function spotpitchWith(
  env: Readonly<Record<string, string>>,
  ...args: readonly string[]
): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [built, ...args], {
      timeout: 60_000,
      env: { ...process.env, ...env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    const stdout: Buffer[] = [];
    const stderr: Buffer[] = [];
    child.stdout.on("data", (data: Buffer) => stdout.push(data));
    child.stderr.on("data", (data: Buffer) => stderr.push(data));
    child.on("error", reject);
    child.on("close", (status) =>
      resolve({ status, stdout: Buffer.concat(stdout).toString(), stderr: Buffer.concat(stderr).toString() }),
    );
  });
}

/** A new empty folder; `remove` takes it away with all that is in it. */
export function temporaryFolder(): {
  readonly path: string;
  readonly in: (...names: string[]) => string;
  remove(): void;
} {
  const path = mkdtempSync(join(tmpdir(), "spotpitch-cli-"));
  return {
    path,
    in: (...names) => join(path, ...names),
    remove: () => rmSync(path, { recursive: true, force: true }),
  };
}

/** All names in a folder, sorted, including hidden ones; empty if there is no folder. */
export function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder).sort();
  } catch {
    return [];
  }
}
