import type { PowerToSet } from "../../6-report/report.js";
import { FULL_POWER, type PowerFigures, powerWords } from "../../6-report/words/power-words.js";
import type { Material } from "../../core/material/material.js";
import { doseOfPasses, type Fill, type FullTone, powerPercentFor } from "../../core/physics/power.js";
import type { Reader } from "../../core/reader.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { MAX_PASSES } from "../../options/table/power.js";

/** A solid fill whose power is asked for. */
export interface PoweredFill {
  readonly material: Material;
  readonly pitchMm: number;
  readonly speedMmPerS: number;
  /** Names of options whose defaults were taken. */
  readonly assumed?: readonly string[] | undefined;
  readonly passes: number;
  /** Mean dose; default 1, full tone. */
  readonly dose?: number;
  /** Pitch at which the power for full tone is known, if the material does not say it. */
  readonly referencePitchMm?: number | undefined;
  readonly fullTone: FullTone | undefined;
}

/** The power of each pass, as a factor on a known setting, and in percent if the full-tone setting was given. */
export function powerToSet(fill: PoweredFill, reader: Reader): PowerToSet {
  const { material, pitchMm, speedMmPerS, passes, dose = 1, fullTone } = fill;
  const { lineExponent, source, curve } = material;
  const referencePitchMm = material.referencePitchMm ?? fill.referencePitchMm;
  const isKnown = fullTone || (material.referencePitchMm !== undefined && /^measured\b/i.test(source));
  const power: PowerFigures = {
    speedMmPerS,
    ...(isSpeedAssumed(fill) && { isSpeedAssumed: true }),
    passes,
    ...(referencePitchMm !== undefined && {
      factor: (dose * pitchMm) / referencePitchMm / doseOfPasses(passes, lineExponent),
      referenceLinesPerInch: linesPerInchFromPitchMm(referencePitchMm),
    }),
    ...(fullTone && inPercent(fullTone, { ...fill, dose, lineExponent })),
    ...(!isKnown && { testLinesPerInch: linesPerInchFromPitchMm(referencePitchMm ?? pitchMm) }),
  };
  return { ...power, message: powerWords(power, curve.darkens, reader) };
}

/** A full-tone setting of a speed of its own needs the job's. */
const isSpeedAssumed = ({ assumed = [], fullTone }: PoweredFill): boolean =>
  assumed.includes("speedMmPerS") && !fullTone?.isSpeedNamed;

/** A lower speed and more passes are named if 100 % is not enough. */
function inPercent(fullTone: FullTone, fill: Fill): Partial<PowerFigures> {
  const percent = powerPercentFor(fullTone, fill);
  const enoughPasses = passesFor(fullTone, fill);
  return {
    percent,
    found: {
      percent: fullTone.percent,
      linesPerInch: linesPerInchFromPitchMm(fullTone.pitchMm),
      speedMmPerS: fullTone.speedMmPerS,
      ...(fullTone.isSpeedNamed && { isSpeedNamed: true }),
    },
    ...(percent > FULL_POWER && {
      fullPowerSpeedMmPerS: (fill.speedMmPerS * 100) / percent,
      ...(enoughPasses && { enoughPasses }),
    }),
  };
}

/** The smallest number of passes with which no more than full power is needed. */
function passesFor(fullTone: FullTone, fill: Fill): PowerToSet["enoughPasses"] {
  for (let passes = fill.passes + 1; passes <= MAX_PASSES; passes++) {
    const percent = powerPercentFor(fullTone, { ...fill, passes });
    if (percent <= FULL_POWER) return { passes, percent };
  }
  return undefined;
}
