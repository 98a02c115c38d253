/** The thread behind a lane of a comparison. */
import { serveLane } from "../lanes.js";
import { candidatesFrom } from "./candidate.js";

serveLane(candidatesFrom);
