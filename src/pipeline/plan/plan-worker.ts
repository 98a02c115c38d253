/** The thread behind a lane of a plan: one row for each request, one request at a time. */
import { parentPort, workerData } from "node:worker_threads";
import { failureOf } from "../../core/errors.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { type PictureSource, planRow, type RowRequest } from "./plan-row.js";
import type { LaneData, LaneReply } from "./row-lanes.js";

const memory = createKernelMemory();
const source: PictureSource = { ...(workerData as LaneData) };

async function answer(request: RowRequest): Promise<LaneReply> {
  try {
    return { row: await planRow(memory, request, source) };
  } catch (error) {
    return { failure: failureOf(error) };
  }
}

parentPort?.on("message", async (request: RowRequest) => parentPort?.postMessage(await answer(request)));
