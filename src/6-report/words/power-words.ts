import type { Reader } from "../../core/reader.js";
import { speedLimitWords, speedWords } from "../../core/shown-units.js";
import { densityWords } from "../../core/words.js";
import type { PowerToSet } from "../report.js";
import { fixed, type Matter } from "./matter.js";

/** The figures of a power, before they are words. */
export type PowerFigures = Omit<PowerToSet, "message">;

/** Percent, with room for rounding. */
export const FULL_POWER = 100 + 1e-9;

/** Percent of power as people set it: whole, and in tenths below 10. */
export const powerPercentWords = (percent: number): string =>
  `${Number(percent < 9.95 ? percent.toPrecision(2) : percent.toFixed(0))} %`;

const jobSpeedWords = (
  { speedMmPerS, isSpeedAssumed }: Pick<PowerFigures, "speedMmPerS" | "isSpeedAssumed">,
  { units }: Reader,
): string => (isSpeedAssumed ? "the speed of your full-tone setting" : speedWords(speedMmPerS, units));
const passesWords = (passes: number): string => (passes === 1 ? "" : ` in each of ${passes} passes`);

/**
 * The power to set, in one or two sentences without the last full stop.
 *
 * @param darkens whether marks grow darker with the dose
 */
export function powerWords(power: PowerFigures, darkens: boolean, reader: Reader): string {
  if (power.percent !== undefined) return percentWords(power, reader);
  if (power.factor !== undefined) return factorWords(power, reader);
  return `not known yet: ${reader.powerTest(power.testLinesPerInch ?? 0)} makes a solid patch to burn at five powers of your choice. The first that grows no ${darkens ? "darker" : "lighter"} is your setting: give it as ${reader.option("powerPercent")}`;
}

function percentWords(power: PowerFigures, reader: Reader): string {
  const { percent = 0, isSpeedAssumed, passes, found } = power;
  const setting = found
    ? ` (full tone in one pass: ${powerPercentWords(found.percent)} at ${densityWords(found.linesPerInch)} lines per inch${isSpeedAssumed ? "" : ` and ${speedWords(found.speedMmPerS, reader.units)}`})`
    : "";
  const told = `${powerPercentWords(percent)} at ${jobSpeedWords(power, reader)}${passesWords(passes)}${setting}`;
  return percent > FULL_POWER ? `more than the machine has: ${told}` : told;
}

/** More power than there is. */
export const powerTooWeak: Matter<PowerFigures> = {
  title: "Not enough power",
  happens: ({ percent = 0, passes, ...power }, reader) =>
    `At ${jobSpeedWords(power, reader)} solid parts need ${powerPercentWords(percent)} of the machine's power${passesWords(passes)}, and it has 100 %: dark tones would come out too weak.`,
  whatToDo({ fullPowerSpeedMmPerS = 0, enoughPasses, found }, reader) {
    const first =
      fullPowerSpeedMmPerS < SLOWEST_MM_PER_S
        ? `Even at 100 % no speed from ${speedWords(SLOWEST_MM_PER_S, reader.units)} up is slow enough: check the figures in ${reader.option("powerPercent")}.`
        : slowerWords(fullPowerSpeedMmPerS, found, reader);
    if (!enoughPasses) return first;
    const { passes, percent } = enoughPasses;
    return `${first} Or burn ${passes} passes at ${powerPercentWords(percent)}: ${reader.setting("passes", passes)}.`;
  },
};

/** No machine engraves more slowly; common practice, no source. */
const SLOWEST_MM_PER_S = 1;

function slowerWords(speedMmPerS: number, found: PowerFigures["found"], reader: Reader): string {
  const named =
    found && !found.isSpeedNamed
      ? `, and name the speed of your full-tone setting: ${reader.fullTone(found)}`
      : "";
  return `Set 100 %, lower ${reader.option("speedMmPerS")} to ${speedLimitWords(speedMmPerS, reader.units)}${named}.`;
}

/** Percent below which many sources do not fire evenly. Common practice, no source. */
export const LOW_POWER = 5;

/** Hardly any power. */
export const powerVeryLow: Matter<PowerFigures> = {
  title: "Very little power",
  happens: ({ percent = 0, passes, ...power }, reader) =>
    `At ${jobSpeedWords(power, reader)} solid parts need only ${powerPercentWords(percent)} of the machine's power${passesWords(passes)}. Below about ${LOW_POWER} % many sources do not fire evenly, or not at all: tones may come out uneven, or be missing.`,
  whatToDo({ percent = 0, passes, speedMmPerS }, reader) {
    const quicker = `Raise ${reader.option("speedMmPerS")} to about ${speedWords(Math.ceil((speedMmPerS * LOW_POWER) / percent), reader.units)} or more, if your machine can go as fast`;
    return passes === 1
      ? `${quicker}, or burn a patch at this power on scrap first.`
      : `${quicker}, or burn fewer passes: lower ${reader.option("passes")}.`;
  },
};

function factorWords(
  { factor = 1, passes, referenceLinesPerInch = 0, testLinesPerInch }: PowerFigures,
  reader: Reader,
): string {
  const isKnown = testLinesPerInch === undefined;
  const known = `${isKnown ? "the power that you used" : "the power that gives full tone"} at ${densityWords(referenceLinesPerInch)} lines per inch`;
  const isSame = Math.abs(factor - 1) < SAME_FACTOR;
  const each = isSame ? known : `${fixed(factor, 2)} × ${known}`;
  const faster = isSame ? "" : `, or that power and ${fixed(1 / factor, 2)} × its speed`;
  const found = isKnown ? "" : ` If you do not know it, ${reader.powerTest(testLinesPerInch)} finds it.`;
  return `${each}${passesWords(passes)}${faster}.${found} Give it as ${reader.option("powerPercent")} to read percent here`;
}

/** A smaller change is not shown. */
const SAME_FACTOR = 0.005;

/** The power in large type. */
export function powerInShort({ percent, passes, factor }: PowerFigures): string {
  if (percent !== undefined && percent > FULL_POWER) return "over 100 %";
  const each = passes === 1 ? "" : `, ${passes} passes`;
  if (percent !== undefined) return `${powerPercentWords(percent)}${each}`;
  return factor === undefined ? "to be found" : `× ${factor.toFixed(2)}${each}`;
}
