import type { ByteSink } from "../../6-report/files/deflate.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { startThread } from "../../workers/thread.js";
import type { Job } from "../job.js";
import { type BitmapRequest, type BurnedBitmap, type BurnStage, bandRowsFor } from "./burn-stage.js";

/** Bands between the two halves of a job: one being filled, one being burned, one waiting. */
const SLOTS = 3;

/** A bitmap request for the thread. Bands are in shared memory, and the file comes back through `write`. */
export interface BitmapOrder extends Omit<BitmapRequest, "sink"> {
  readonly slots: readonly Int16Array[];
  readonly file: boolean;
}

/** A burn stage on its own thread. The calling thread writes burn fractions into the job's memory. */
export function startBurnThread({ options, memory }: Job): BurnStage {
  let sink: ByteSink | undefined;
  let written: Promise<void> = Promise.resolve();
  let slots: Int16Array[] = [];
  let inUse: Promise<void>[] = [];
  let band = 0;
  const { call, close } = startThread(new URL("./burn-worker.js", import.meta.url), {
    data: { ...options, mask: undefined, startBitmap: undefined }, // used on this side
    services: {
      write(bytes: Uint8Array) {
        written = written.then(() => sink?.(bytes));
        written.catch(() => {}); // reported when the bitmap ends
      },
    },
    // Its JavaScript makes little garbage. With the default limit the thread would hold three times as much memory.
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
      // A full disk is reported now, and not at the end of the piece.
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

/** A buffer that both threads see and the kernels of this one can write to. With kernels it is in their shared memory. */
const sharedRoom = (memory: KernelMemory, length: number): Int16Array =>
  memory.simd ? memory.int16(length) : new Int16Array(new SharedArrayBuffer(2 * length));
