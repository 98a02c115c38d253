import type { MessagePort, Worker } from "node:worker_threads";
import { errorOf, type Failure, failureOf, SpotpitchError } from "../core/errors.js";
import { refusal } from "../core/refusals/refusals.js";

/** The functions that one end of a link offers to the other, by name. */
export type Services = { readonly [name: string]: (given: never) => unknown };

/** Calls a function at the other end. Its errors are thrown here. Throws `INTERNAL` if the other end has gone. */
export type Call = <Answer>(name: string, given?: unknown, transfer?: ArrayBuffer[]) => Promise<Answer>;

/** An answer with buffers that are transferred, not copied. */
export class Handover {
  constructor(
    readonly answer: unknown,
    readonly buffers: ArrayBuffer[],
  ) {}
}

/** A thread or process that ended with work left to do. */
export class WorkerDied extends SpotpitchError {
  constructor(what: string, cause?: unknown) {
    const why = cause instanceof Error ? cause.message : undefined;
    const { code, message, refusal: told } = refusal("worker-ended", { what, why });
    super(code, message, { cause, ...(told && { refusal: told }) });
  }
}

/** A thread, or the port to the thread that started it. */
type Port = Worker | MessagePort;

type Message =
  | { readonly id: number; readonly call: string; readonly given: unknown }
  | { readonly id: number; readonly answer: unknown }
  | { readonly id: number; readonly failure: Failure };

interface Link {
  readonly call: Call;
  /** Rejects all waiting and later calls, because the other end has gone. */
  readonly fail: (error: Error) => void;
}

/** One end of a link between two threads. Both ends may call. Calls start in the order in which they were sent. */
export function createLink(port: Port, servicesFor: (call: Call) => Services): Link {
  const waiting = new Map<number, { resolve: (answer: never) => void; reject: (error: Error) => void }>();
  let lastId = 0;
  let gone: Error | undefined;

  const fail = (error: Error): void => {
    gone ??= error;
    for (const { reject } of waiting.values()) reject(gone);
    waiting.clear();
  };
  const call: Call = (name, given, transfer = []) => {
    if (gone) return Promise.reject(gone);
    const id = ++lastId;
    const answer = new Promise<never>((resolve, reject) => {
      port.postMessage({ id, call: name, given } satisfies Message, transfer);
      waiting.set(id, { resolve, reject });
    });
    answer.catch(() => {}); // the caller handles it
    return answer;
  };
  const services = servicesFor(call);
  port.on("message", (message: Message) => {
    if ("call" in message) {
      void reply(port, message.id, () => services[message.call](message.given as never));
      return;
    }
    const { resolve, reject } = waiting.get(message.id) ?? {};
    waiting.delete(message.id);
    if ("failure" in message) reject?.(errorOf(message.failure));
    else resolve?.(message.answer as never);
  });
  port.on("messageerror", fail);
  return { call, fail };
}

async function reply(port: Port, id: number, work: () => unknown): Promise<void> {
  try {
    const made = await work();
    const { answer, buffers } = made instanceof Handover ? made : new Handover(made, []);
    port.postMessage({ id, answer } satisfies Message, buffers);
  } catch (error) {
    // The work failed, or its answer cannot be cloned.
    refuse(port, id, error);
  }
}

/** Sends an error. If its details cannot be cloned, only code and message go, so that the caller does not wait for ever. */
function refuse(port: Port, id: number, error: unknown): void {
  const failure = failureOf(error);
  try {
    port.postMessage({ id, failure } satisfies Message, []);
  } catch {
    const { code, message } = failure;
    port.postMessage({ id, failure: { code, message } } satisfies Message, []);
  }
}
