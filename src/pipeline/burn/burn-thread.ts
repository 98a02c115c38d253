import { Worker } from "node:worker_threads";
import type { Frame } from "../../3-resample/frame.js";
import type { ByteSink } from "../../6-report/files/deflate.js";
import { errorOf, type Failure } from "../../core/errors.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnStage, bandRowsFor } from "./burn-stage.js";

/** Bands between the two halves of a job: one being filled, one being burned, one in between. */
const SLOTS = 3;

/** What is asked of the thread: a step of the stage, by name. Bands lie in shared memory. */
export interface BurnRequest {
  readonly id: number;
  readonly step: keyof BurnStage;
  readonly with: readonly unknown[];
}

/** What comes back: bytes of the bitmap file, or the answer to a request. */
export type BurnReply =
  | { readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly id: number; readonly answer: unknown }
  | { readonly id: number; readonly failure: Failure };

/** Threads can only be started from the built package; under a TypeScript loader everything runs on one. */
export const threadsAvailable = import.meta.url.endsWith(".js");

/**
 * A burn stage on a thread of its own.
 *
 * @param memory of the calling thread, where it writes its burn fractions
 */
export function startBurnThread(options: ResolvedOptions, memory: KernelMemory): BurnStage {
  const worker = new Worker(new URL("./burn-worker.js", import.meta.url), {
    workerData: { ...options, mask: undefined }, // that has been seen to on this side
    // Its JavaScript makes little garbage; with the usual room for it the thread would hold three times as much.
    resourceLimits: { maxYoungGenerationSizeMb: 2 },
  });
  const waiting = new Map<number, { resolve: (answer: never) => void; reject: (error: Error) => void }>();
  let lastId = 0;
  let sink: ByteSink = () => {};
  let written: Promise<void> = Promise.resolve();
  let slots: Int16Array[] = [];
  let inUse: Promise<void>[] = [];
  let band = 0;

  let failure: Error | undefined;
  const failAll = (error: Error): void => {
    failure ??= error;
    for (const { reject } of waiting.values()) reject(error);
    waiting.clear();
  };
  worker.on("message", (reply: BurnReply) => {
    if ("bytes" in reply) {
      written = written.then(() => sink(reply.bytes));
      written.catch(() => {}); // told when the bitmap ends
      return;
    }
    const { resolve, reject } = waiting.get(reply.id) ?? {};
    waiting.delete(reply.id);
    if ("failure" in reply) reject?.(errorOf(reply.failure));
    else resolve?.(reply.answer as never);
  });
  worker.on("error", failAll);
  worker.on("exit", () => failAll(refusal("burn-thread-ended", {})));
  const ask = <Answer>(step: keyof BurnStage, ...given: unknown[]): Promise<Answer> => {
    if (failure) return Promise.reject(failure);
    const id = ++lastId;
    const answer = new Promise<Answer>((resolve, reject) => waiting.set(id, { resolve, reject }));
    answer.catch(() => {}); // told to whoever awaits it
    worker.postMessage({ id, step, with: given } satisfies BurnRequest);
    return answer;
  };

  return {
    measureCurve: (methodId) => ask("measureCurve", methodId),
    async begin(methodId, frame: Frame, keep, to) {
      sink = to;
      const length = bandRowsFor(frame.columns) * frame.columns;
      slots = Array.from({ length: SLOTS }, () => sharedRoom(memory, length));
      inUse = slots.map(() => Promise.resolve());
      band = 0;
      await ask("begin", methodId, frame, keep, slots);
    },
    async room() {
      // A disk that is full is told now, and not when the bed is done.
      await Promise.all([inUse[band % SLOTS], written]);
      return slots[band % SLOTS];
    },
    async band(count) {
      inUse[band % SLOTS] = ask("band", band % SLOTS, count);
      band++;
    },
    async end() {
      await Promise.all(inUse);
      const burned = await ask<Awaited<ReturnType<BurnStage["end"]>>>("end");
      await written;
      return burned;
    },
    pictures: (forPage) => ask("pictures", forPage),
    draw: (chart) => ask("draw", chart),
    close: () => void worker.terminate(),
  };
}

/** Room that both threads see, and that the kernels of this one can write to: their memory is shared where they have one. */
const sharedRoom = (memory: KernelMemory, length: number): Int16Array =>
  memory.simd ? memory.int16(length) : new Int16Array(new SharedArrayBuffer(2 * length));
