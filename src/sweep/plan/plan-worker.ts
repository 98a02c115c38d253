/** The thread behind a lane of a plan. */
import { serveLane } from "../lanes.js";
import { rowsFrom } from "./plan-row.js";

serveLane(rowsFrom);
