import type { ByteSink } from "../../6-report/files/deflate.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { startThread } from "../../workers/thread.js";
import type { Job } from "../job.js";
import { type BitmapRequest, type BurnedBitmap, type BurnStage, bandRowsFor } from "./burn-stage.js";

/** Bands between the two halves of a job: one being filled, one being burned, one in between. */
const SLOTS = 3;

/** A bitmap as the thread is asked for it: bands lie in shared memory, and its file comes back by `write`. */
export interface BitmapOrder extends Omit<BitmapRequest, "sink"> {
  readonly slots: readonly Int16Array[];
  readonly file: boolean;
}

/** A burn stage on a thread of its own. This one writes its burn fractions into the job's memory. */
export function startBurnThread({ options, memory }: Job): BurnStage {
  let sink: ByteSink | undefined;
  let written: Promise<void> = Promise.resolve();
  let slots: Int16Array[] = [];
  let inUse: Promise<void>[] = [];
  let band = 0;
  const { call, close } = startThread(new URL("./burn-worker.js", import.meta.url), {
    data: { ...options, mask: undefined }, // that has been seen to on this side
    services: {
      write(bytes: Uint8Array) {
        written = written.then(() => sink?.(bytes));
        written.catch(() => {}); // told when the bitmap ends
      },
    },
    // Its JavaScript makes little garbage; with the usual room for it the thread would hold three times as much.
    resourceLimits: { maxYoungGenerationSizeMb: 2 },
  });
  return {
    measureCurve: (methodId) => call("measureCurve", methodId),
    async begin({ methodId, frame, keep, sink: to }) {
      sink = to;
      const length = bandRowsFor(frame.columns) * frame.columns;
      slots = Array.from({ length: SLOTS }, () => sharedRoom(memory, length));
      inUse = slots.map(() => Promise.resolve());
      band = 0;
      await call("begin", { methodId, frame, keep, slots, file: to !== undefined } satisfies BitmapOrder);
    },
    async room() {
      // A disk that is full is told now, and not when the bed is done.
      await Promise.all([inUse[band % SLOTS], written]);
      return slots[band % SLOTS];
    },
    async band(count) {
      inUse[band % SLOTS] = call("band", { slot: band % SLOTS, count });
      band++;
    },
    async end() {
      await Promise.all(inUse);
      const burned = await call<BurnedBitmap>("end");
      await written;
      return burned;
    },
    pictures: (forPage) => call("pictures", forPage),
    draw: (chart) => call("draw", chart),
    close,
  };
}

/** Room that both threads see, and that the kernels of this one can write to: their memory is shared where they have one. */
const sharedRoom = (memory: KernelMemory, length: number): Int16Array =>
  memory.simd ? memory.int16(length) : new Int16Array(new SharedArrayBuffer(2 * length));
