import * as z from "zod";
import { group } from "../group.js";
import { length, microseconds, number, share, toggle } from "../kinds.js";
import { above0, between } from "../takes.js";

const SPREAD_WORDS = "0 to 50 %, in code 0 to 0.5";

/** Motion and firing of the machine, and the viewing distance. */
export const machineOptions = group("Machine and viewing", {
  speedMmPerS: number(
    "--speed <mm/s>",
    above0(20000, "mm/s").default(300),
    "scan speed, for run time and firing lag",
  ),
  accelerationMmPerS2: number("--accel <mm/s²>", above0(1e6, "mm/s²").default(5000), "acceleration"),
  stepTimeS: number(
    "--step-time <s>",
    between(0, 10, "s").default(0),
    "time per line step that the reversal does not hide",
  ),
  firingLagUs: microseconds(
    "--firing-lag <time>",
    between(0, 10000, "µs").default(0),
    "time constant of the source behind its command, in µs: 30, 30us, 0.03ms",
  ),
  lineShiftMm: length(
    "--line-shift <length>",
    between(-1, 1, "mm").default(0),
    "how far lines burned on the way back are shifted",
  ),
  oneWay: toggle("--one-way", false, "burn every line in the same direction"),
  /** Process spread s of the dose, as a fraction. */
  doseSpread: share(
    "--dose-spread <percent>",
    z.number(SPREAD_WORDS).min(0, SPREAD_WORDS).max(0.5, SPREAD_WORDS).default(0.1),
    "how far the dose drifts on your machine",
  ),
  viewDistanceMm: length(
    "--view-distance <length>",
    between(50, 10000, "mm").default(300),
    "distance from which the piece is looked at",
  ),
});
