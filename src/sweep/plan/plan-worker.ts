/** The thread behind a lane of a plan: one row for each request, one request at a time. */
import { workerData } from "node:worker_threads";
import { serveLane } from "../lanes.js";
import { type LaneData, rowsOf } from "./row-lanes.js";

serveLane(rowsOf(workerData as LaneData));
