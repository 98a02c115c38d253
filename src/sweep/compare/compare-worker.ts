/** The thread behind a lane of a comparison: one candidate for each request, one request at a time. */
import { workerData } from "node:worker_threads";
import { serveLane } from "../lanes.js";
import { type CandidateSource, candidatesFrom } from "./candidate.js";

serveLane(candidatesFrom(workerData as CandidateSource));
