/** A thread of `searchPiece`: searches the tiles that it is given. */
import type { ResolvedOptions } from "../../options/options.js";
import { serveThread } from "../../workers/thread.js";
import { createJob } from "../job.js";
import { searchPlan } from "./search-plan.js";
import type { Look, SearchData } from "./search-workers.js";
import { type TileRequest, TileWork } from "./tile-work.js";

serveThread(({ options, aim, planes, size }: SearchData & { readonly options: ResolvedOptions }) => {
  const job = createJob(options);
  const work = new TileWork(job, searchPlan(job, aim, size), planes);
  return {
    measure: ({ core, nearness }: Look) => work.measure(core, nearness),
    search: (tile: TileRequest) => work.search(tile),
  };
});
