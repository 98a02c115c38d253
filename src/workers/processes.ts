import { Tinypool } from "tinypool";
import { type ErrorCode, SpotpitchError } from "../core/errors.js";
import { WorkerDied } from "./link.js";

/** Processes that share work: one that dies takes nothing with it, and one that never ends can be ended. */
export interface Processes {
  /** Calls a function that the entry file exports; a signal ends the process that is at it. */
  readonly call: <Answer>(name: string, given: unknown, signal: AbortSignal) => Promise<Answer>;
  /** Ends all at once. */
  readonly close: () => Promise<void>;
}

export function openProcesses(entry: URL, count: number): Processes {
  const pool = new Tinypool({
    filename: entry.href,
    runtime: "child_process",
    serialization: "advanced",
    minThreads: count,
    maxThreads: count,
    env: { ...process.env } as Record<string, string>,
  });
  // An idle process that dies is replaced; a busy one is told to whoever waits for it.
  pool.on("error", () => {});
  return {
    async call(name, given, signal) {
      try {
        return await pool.run(given, { name, signal });
      } catch (error) {
        signal.throwIfAborted();
        if (error instanceof Error && /exited unexpectedly/.test(error.message)) {
          throw new WorkerDied("A process");
        }
        throw asTold(error);
      }
    },
    close: () => pool.destroy().catch(() => {}),
  };
}

/** Errors cross from a process as plain objects. */
function asTold(error: unknown): Error {
  const { code, message } = error as { readonly code?: unknown; readonly message?: unknown };
  if (typeof code === "string" && /^(OUTPUT_|INTERNAL)/.test(code)) {
    return new SpotpitchError(code as ErrorCode, String(message), { cause: error });
  }
  return error instanceof Error ? error : Object.assign(new Error(String(message ?? error)), error);
}
