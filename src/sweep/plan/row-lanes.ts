import { Worker } from "node:worker_threads";
import type { PlanRow } from "../../6-report/plan.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { inLanes } from "../lanes.js";
import { type PictureSource, planRow, type RowRequest } from "./plan-row.js";

/** What a lane's thread is given to begin with. */
export type LaneData = Omit<PictureSource, "decoded" | "shown">;

/**
 * The rows of a plan, in the order asked for.
 *
 * @param onRow told after each row how many are done
 */
export async function planRows(
  requests: readonly RowRequest[],
  source: LaneData,
  threads?: number,
  onRow: (done: number) => void = () => {},
): Promise<PlanRow[]> {
  const worthThreads = requests.some(({ kind }) => kind === "photo");
  const rows: PlanRow[] = new Array(requests.length);
  let done = 0;
  await inLanes(
    requests,
    {
      begin: () => rowsOf(source),
      start: () => new Worker(new URL("./plan-worker.js", import.meta.url), { workerData: source }),
      costOf: ({ options }) => options.linesPerInch ?? 0,
    },
    (row, index) => {
      rows[index] = row;
      onRow(++done);
    },
    worthThreads ? threads : 1,
  );
  return rows;
}

/** Works out rows of one picture on the thread that it is called on. */
export function rowsOf({ bytes, fileName }: LaneData): (request: RowRequest) => Promise<PlanRow> {
  const memory = createKernelMemory();
  const source: PictureSource = { bytes, fileName };
  return (request) => planRow(memory, request, source);
}
