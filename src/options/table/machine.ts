import * as z from "zod";
import { DEFAULT_SPREAD, doseSpreadOf, LOCAL_LENGTH_LIMITS_MM, MAX_SPREAD_PART } from "../../core/spread.js";
import { group } from "../group.js";
import {
  acceleration,
  densities,
  length,
  microseconds,
  number,
  share,
  speed,
  spread,
  toggle,
} from "../kinds.js";
import { spreadWords } from "../quantities.js";
import { above0, between, linesPerInch } from "../takes.js";

const OFFERED_WORDS = "a list of lines per inch";
const SPREAD_WORDS = "0 to 30 %";
const MAX_DOSE_SPREAD = 0.3;
const [MIN_LENGTH_MM, MAX_LENGTH_MM] = LOCAL_LENGTH_LIMITS_MM;
const PARTS_WORDS = `parts such as local=3%,line=5%,spot=4%,common=8%, each 0 to ${100 * MAX_SPREAD_PART} %, and local-length=2mm, ${MIN_LENGTH_MM} to ${MAX_LENGTH_MM} mm`;

/** A refusal reads "spread takes <message>". */
const part = (name: string, [min, max]: readonly [number, number] = [0, MAX_SPREAD_PART]) =>
  between(min, max, "", `${name} from `).optional();
const spreadParts = z.strictObject(
  {
    common: part("common"),
    local: part("local"),
    line: part("line"),
    spot: part("spot"),
    localLengthMm: part("localLengthMm", LOCAL_LENGTH_LIMITS_MM),
  },
  PARTS_WORDS,
);

/** Motion and firing of the machine, and the viewing distance. */
export const machineOptions = group("Machine and viewing", {
  speedMmPerS: speed(
    "--speed <speed>",
    above0(20000, "mm/s").default(300),
    "scan speed, for run time, firing lag and firing loss: 300, 300mm/s, 18000mm/min, 12in/s",
    { assumed: true },
  ),
  accelerationMmPerS2: acceleration(
    "--accel <acceleration>",
    above0(1e6, "mm/s²").default(5000),
    "acceleration: 5000, 5000mm/s2, 200in/s2",
    { assumed: true },
  ),
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
  firingLossUs: microseconds(
    "--firing-loss <time>",
    between(-200, 200, "µs").default(0),
    "how much later the source starts than it stops: 30us makes every burst shorter, -20us longer",
  ),
  lineShiftMm: length(
    "--line-shift <length>",
    between(-1, 1, "mm").default(0),
    "how far lines burned on the way back are shifted",
    { needs: "two-way" },
  ),
  oneWay: toggle("--one-way", false, "burn every line in the same direction"),
  /** The default density is the one of these that is nearest to what it would be without them. */
  linesPerInchOffered: densities(
    "--offered <list>",
    z.array(linesPerInch, OFFERED_WORDS).min(1, OFFERED_WORDS).optional(),
    "densities that the machine offers, 150,254,300,508: the default density is one of them, and a plan compares them",
    { otherwise: "any" },
  ),
  /** Spread of the common dose as three equal weights 1 − s, 1, 1 + s: another form of the `common` part of `spread`. */
  doseSpread: share(
    "--dose-spread <percent>",
    z.number(SPREAD_WORDS).min(0, SPREAD_WORDS).max(MAX_DOSE_SPREAD, SPREAD_WORDS).optional(),
    "how far the dose of whole pieces is off on your machine: one third of the pieces get so much too little, one third so much too much. It is the common part of --spread in another form: 10% here is common=8.2% there",
    { otherwise: `${Number((100 * doseSpreadOf(DEFAULT_SPREAD)).toPrecision(2))}%` },
  ),
  /** Variation of the machine in parts, as relative standard deviations; missing parts are the defaults. */
  spread: spread(
    "--spread <parts>",
    spreadParts.optional(),
    "how much your machine varies, as standard deviations: the dose of the whole piece (common; 8.2% is a dose spread of 10%), from place to place (local, over the local-length) and from line to line (line), and the size of the spot (spot)",
    { otherwise: spreadWords(DEFAULT_SPREAD) },
  ),
  viewDistanceMm: length(
    "--view-distance <length>",
    between(50, 10000, "mm").default(300),
    "distance from which the piece is looked at",
  ),
});
