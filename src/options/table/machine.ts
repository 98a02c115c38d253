import * as z from "zod";
import { group } from "../option.js";
import { above0, between, trueOrFalse } from "../takes.js";
import * as text from "../text-forms.js";

const SPREAD_WORDS = "0 to 50 %, in code 0 to 0.5";

/** How the machine moves and fires, and from where the piece is looked at. */
export const machineOptions = group("Machine and viewing", {
  speedMmPerS: {
    flag: "--speed <mm/s>",
    text: text.number,
    takes: above0(20000, "mm/s").default(300),
    help: "scan speed, for run time and firing lag",
  },
  accelerationMmPerS2: {
    flag: "--accel <mm/s²>",
    text: text.number,
    takes: above0(1e6, "mm/s²").default(5000),
    help: "acceleration",
  },
  stepTimeS: {
    flag: "--step-time <s>",
    text: text.number,
    takes: between(0, 10, "s").default(0),
    help: "time per line step that the reversal does not hide",
  },
  firingLagUs: {
    flag: "--firing-lag <time>",
    text: text.microseconds,
    takes: between(0, 10000, "µs").default(0),
    help: "time constant of the source behind its command, in µs: 30, 30us, 0.03ms",
  },
  lineShiftMm: {
    flag: "--line-shift <length>",
    text: text.length,
    takes: between(-1, 1, "mm").default(0),
    help: "how far lines burned on the way back are shifted",
  },
  oneWay: {
    flag: "--one-way",
    text: text.yesOrNo,
    takes: trueOrFalse.default(false),
    help: "burn every line in the same direction",
  },
  /** Process spread s of the dose, as a fraction. */
  doseSpread: {
    flag: "--dose-spread <percent>",
    text: text.share,
    takes: z.number(SPREAD_WORDS).min(0, SPREAD_WORDS).max(0.5, SPREAD_WORDS).default(0.1),
    help: "how far the dose drifts on your machine",
  },
  viewDistanceMm: {
    flag: "--view-distance <length>",
    text: text.length,
    takes: between(50, 10000, "mm").default(300),
    help: "distance from which the piece is looked at",
  },
});
