import type { MessagePort, Worker } from "node:worker_threads";
import { errorOf, type Failure, failureOf, SpotpitchError } from "../core/errors.js";
import { refusal } from "../core/refusals/refusals.js";

/** What one end of a link does for the other, by name. */
export type Services = { readonly [name: string]: (given: never) => unknown };

/** Asks the other end. What it throws is thrown here; where it is gone, `INTERNAL`. */
export type Call = <Answer>(name: string, given?: unknown, transfer?: ArrayBuffer[]) => Promise<Answer>;

/** An answer whose buffers go along with it whole. */
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

/** A thread, or the way back to whoever started it. */
type Port = Worker | MessagePort;

type Message =
  | { readonly id: number; readonly call: string; readonly given: unknown }
  | { readonly id: number; readonly answer: unknown }
  | { readonly id: number; readonly failure: Failure };

interface Link {
  readonly call: Call;
  /** Tells whoever waits, or calls later, that the other end is gone. */
  readonly fail: (error: Error) => void;
}

/** One end of a link between two threads: both may call. Calls begin in the order in which they were sent. */
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
    answer.catch(() => {}); // told to whoever awaits it
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
    // From the work, or because its answer cannot be cloned.
    refuse(port, id, error);
  }
}

/** Where the details of an error cannot be cloned, its code and message go alone: the caller must not wait for ever. */
function refuse(port: Port, id: number, error: unknown): void {
  const failure = failureOf(error);
  try {
    port.postMessage({ id, failure } satisfies Message, []);
  } catch {
    const { code, message } = failure;
    port.postMessage({ id, failure: { code, message } } satisfies Message, []);
  }
}
