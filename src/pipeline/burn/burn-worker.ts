/** The thread behind `startBurnThread`: one burn stage, its steps taken in the order in which they were asked for. */
import { parentPort, workerData } from "node:worker_threads";
import type { Frame } from "../../3-resample/frame.js";
import type { Chart } from "../../6-report/pages/chart.js";
import { failureOf } from "../../core/errors.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import type { ResolvedOptions } from "../../options/options.js";
import { createBurnStage } from "./burn-stage.js";
import type { BurnReply, BurnRequest } from "./burn-thread.js";

const stage = createBurnStage(workerData as ResolvedOptions, createKernelMemory());
let slots: Int16Array[] = [];
/** Buffers of the next answer that go along with it whole. */
let lent: ArrayBufferLike[] = [];
let queue: Promise<void> = Promise.resolve();

const reply = (message: BurnReply, transfer: ArrayBuffer[] = []): void =>
  parentPort?.postMessage(message, transfer);

async function take({ step, with: given }: BurnRequest): Promise<unknown> {
  switch (step) {
    case "measureCurve":
      return stage.measureCurve(given[0] as string);
    case "begin":
      slots = given[3] as Int16Array[];
      return stage.begin(given[0] as string, given[1] as Frame, given[2] as boolean, (piece) => {
        const bytes = new Uint8Array(piece); // alone in its buffer, to be handed over whole
        reply({ bytes }, [bytes.buffer]);
      });
    case "band": {
      const [slot, count] = given as [number, number];
      (await stage.room()).set(slots[slot]);
      return stage.band(count);
    }
    case "end":
      return stage.end();
    case "pictures": {
      const made = await stage.pictures(given[0] as boolean);
      lent = [made.preview, ...(made.page ? [made.page.predicted] : [])].map(({ rgb }) => rgb.buffer);
      return made;
    }
    case "draw":
      return stage.draw(given[0] as Chart);
    default:
      throw new Error(`The burn thread knows no step ${step}.`);
  }
}

parentPort?.on("message", (request: BurnRequest) => {
  queue = queue.then(async () => {
    try {
      const answer = await take(request);
      reply({ id: request.id, answer }, lent as ArrayBuffer[]);
      lent = [];
    } catch (error) {
      reply({ id: request.id, failure: failureOf(error) });
    }
  });
});
