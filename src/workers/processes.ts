import { Tinypool } from "tinypool";
import { type ErrorCode, SpotpitchError } from "../core/errors.js";
import { refusal } from "../core/refusals/refusals.js";
import { WorkerDied } from "./link.js";

/** Processes that share work. If one crashes, the program continues, and one that hangs can be ended. */
export interface Processes {
  /** Calls a function that the entry file exports. The signal ends the process that runs it. */
  readonly call: <Answer>(name: string, given: unknown, signal: AbortSignal) => Promise<Answer>;
  /** Ends all processes immediately. */
  readonly close: () => Promise<void>;
}

/** @param entry exports `ready`, which a process answers first, and the functions to call */
export function openProcesses(entry: URL, count: number): Processes {
  const pool = new Tinypool({
    filename: entry.href,
    runtime: "child_process",
    serialization: "advanced",
    minThreads: count,
    maxThreads: count,
    // With an arena of memory for each thread, glibc keeps what the decoder's threads have freed: a drawing took three times as much.
    env: { ...process.env, MALLOC_ARENA_MAX: "1" } as Record<string, string>,
  });
  const broken = new AbortController();
  const giveUp = (cause: unknown, code = ""): void =>
    broken.abort(refusal("workers-not-started", { code }, { cause }));
  // An idle process that dies is replaced, and if a busy one dies, its call fails. One that dies before it is ready is not replaced.
  pool.on("error", (error: NodeJS.ErrnoException) => {
    if (pool.threads.length === 0) giveUp(error, error.code);
  });
  /** Until one process has answered, a death is no fault of what it was given. */
  async function start(): Promise<void> {
    for (let died = 0; !broken.signal.aborted; died++) {
      try {
        return await pool.run(undefined, { name: "ready", signal: broken.signal });
      } catch (error) {
        if (died === count) giveUp(error);
      }
    }
  }
  let started: Promise<void> | undefined;
  return {
    async call(name, given, signal) {
      // Processes do not keep the program alive, so a call that nobody answers would end it without a word.
      const alive = setInterval(() => {}, 60_000);
      try {
        started ??= start();
        await started;
        return await pool.run(given, { name, signal: AbortSignal.any([signal, broken.signal]) });
      } catch (error) {
        signal.throwIfAborted();
        broken.signal.throwIfAborted();
        if (error instanceof Error && /exited unexpectedly/.test(error.message)) {
          throw new WorkerDied("A process");
        }
        throw asTold(error);
      } finally {
        clearInterval(alive);
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
