import { parentPort, type ResourceLimits, Worker, workerData } from "node:worker_threads";
import { type Call, createLink, type Services, WorkerDied } from "./link.js";

/**
 * Threads have a link of our own and no pool: half a job keeps its state from call to call and sends bytes while it works,
 * and a lane asks for tone curves in the middle of an answer. Beside a pool that would take a link all the same. Work that must
 * not take the program with it has processes (`processes.ts`), which fail in the same way.
 */
export interface Thread {
  readonly call: Call;
  readonly close: () => void;
}

interface ThreadStart {
  /** Cloned to the thread. */
  readonly data: unknown;
  /** What the thread may call. */
  readonly services?: Services;
  readonly resourceLimits?: ResourceLimits;
}

/** Threads can only be started from the built package; under a TypeScript loader everything runs on one. */
export const threadsAvailable = import.meta.url.endsWith(".js");

/** @param entry a file that calls `serveThread` */
export function startThread(entry: URL, { data, services = {}, resourceLimits }: ThreadStart): Thread {
  const worker = new Worker(entry, { workerData: data, ...(resourceLimits && { resourceLimits }) });
  const { call, fail } = createLink(worker, () => services);
  worker.on("error", (cause) => fail(new WorkerDied("A thread", cause)));
  worker.on("exit", () => fail(new WorkerDied("A thread")));
  return { call, close: () => void worker.terminate() };
}

/**
 * The other end of `startThread`.
 *
 * @param servicesFor given what the thread was started with, and what calls the thread that started it
 */
export function serveThread<Data>(servicesFor: (data: Data, call: Call) => Services): void {
  if (parentPort) createLink(parentPort, (call) => servicesFor(workerData as Data, call));
}
