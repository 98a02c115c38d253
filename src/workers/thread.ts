import { parentPort, type ResourceLimits, Worker, workerData } from "node:worker_threads";
import { type Call, createLink, type Services, WorkerDied } from "./link.js";

/**
 * Threads use our own link and no pool: half a job keeps its state between calls and sends bytes while it works, and a lane
 * requests tone curves during a call. With a pool these would still need a link. Work that may crash runs in processes
 * (`processes.ts`), which report failures in the same way.
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

/** Threads start only from the built package. Under a TypeScript loader everything runs on one thread. */
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
 * @param servicesFor gets the start data and a function that calls the starting thread
 */
export function serveThread<Data>(servicesFor: (data: Data, call: Call) => Services): void {
  if (parentPort) createLink(parentPort, (call) => servicesFor(workerData as Data, call));
}
