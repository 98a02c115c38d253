import * as z from "zod";
import { group } from "../group.js";
import { fullTone, number } from "../kinds.js";
import { linesPerInch, whole } from "../takes.js";

const POWER_WORDS =
  "percent of the machine's power, above 0 and no more than 100, and where it was found: 40%, 40%@254 or 40%@254@300mm/s";
const percent = z.number(POWER_WORDS).positive(POWER_WORDS).max(100, POWER_WORDS);
const found = z.strictObject(
  {
    percent,
    linesPerInch: linesPerInch.optional(),
    speedMmPerS: z.number(POWER_WORDS).positive(POWER_WORDS).max(20000, POWER_WORDS).optional(),
  },
  POWER_WORDS,
);

/** More passes would only burn deeper. */
export const MAX_PASSES = 20;

/** The power that the reports speak in, and how often the piece is burned. */
export const powerOptions = group("Power", {
  /** Power for full tone in one pass, in percent of the machine's; or with the density and the speed at which it was found. */
  powerPercent: fullTone(
    "--power <percent>",
    z.union([percent, found], POWER_WORDS).optional(),
    "your full-tone setting in percent of the machine's power, as spotpitch power-test finds it: 40% at the reference density of the material, preset or file, else at --density, which must then be given; 40%@254 at 254 lines per inch; 40%@254@300mm/s also at that speed. The results then name the percent to set",
    { commands: ["prepare", "batch", "plan"] },
  ),
  passes: number(
    "--passes <n>",
    whole(1, MAX_PASSES).default(1),
    "burn the whole piece n times, where one pass at full power is too weak: together the passes give the dose of one, each needs its share of the power, and the run time is n times as long",
  ),
});
