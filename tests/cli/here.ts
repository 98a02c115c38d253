import { runCommand } from "../../src/cli/program.js";
import type { Ran } from "./command.js";

/** The run that was asked for last. What is printed goes through the process's own streams, so runs take turns. */
let last: Promise<unknown> = Promise.resolve();

/**
 * Run the command's source in this process, on one thread: a run of the built command spends a quarter of a second on its
 * start. `built.test.ts` runs the built command. A batch starts processes, so it takes the built one (`command.ts`).
 */
export const spotpitchHere = (...args: readonly string[]): Promise<Ran> => spotpitchHereWith({}, ...args);

/** The same, with variables of the environment beside those that there are. */
export function spotpitchHereWith(
  env: Readonly<Record<string, string>>,
  ...args: readonly string[]
): Promise<Ran> {
  const run = last.then(() => captured(env, args));
  last = run.catch(() => {});
  return run;
}

async function captured(env: Readonly<Record<string, string>>, args: readonly string[]): Promise<Ran> {
  const before = { ...process.env };
  const [stdout, stderr] = [caught(process.stdout), caught(process.stderr)];
  Object.assign(process.env, env);
  try {
    const status = await runCommand(args);
    return { status, stdout: stdout.text(), stderr: stderr.text() };
  } finally {
    for (const name of Object.keys(env)) delete process.env[name];
    Object.assign(process.env, before);
    stdout.release();
    stderr.release();
  }
}

/** Keeps what is written to a stream, until it is released. */
function caught(stream: NodeJS.WriteStream): { readonly text: () => string; readonly release: () => void } {
  const { write, isTTY } = stream;
  const parts: string[] = [];
  stream.write = (part: Uint8Array | string): boolean => {
    parts.push(typeof part === "string" ? part : Buffer.from(part).toString());
    return true;
  };
  // As for the built command: no terminal.
  stream.isTTY = false;
  return {
    text: () => parts.join(""),
    release: () => {
      stream.write = write;
      stream.isTTY = isTTY;
    },
  };
}
