/** The thread behind a lane of a plan. */
import { serveLane } from "../lanes.js";
import { planAnswers } from "./plan-row.js";

serveLane(planAnswers);
