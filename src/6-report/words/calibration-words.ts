import type { Reader } from "../../core/reader.js";
import { DEFAULT_SPREAD } from "../../core/spread.js";
import { listWords } from "../../core/words.js";
import type { Calibration, CalibrationWarningCode, LearntFigure } from "../calibration.js";

type Figures = Omit<Calibration, "warnings" | "before" | "settings" | "next">;

/** Names of what a card may teach. */
const NAMES = {
  spotAlongMm: "the spot along the lines",
  spotAcrossMm: "the spot across them",
  firingLagUs: "the firing lag",
  firingLossUs: "the firing loss",
  lineShiftMm: "the line shift",
  lineExponent: "whether lines add up",
} as const;

type Learnable = keyof typeof NAMES;

/** What the card does not tell. */
const unlearnt = (figures: Figures): string[] =>
  (Object.keys(NAMES) as Learnable[]).filter((name) => !figures[name].learnt).map((name) => NAMES[name]);

/** The solid patches are not at the end of the curve if it still changes by more than this share of its range in the last tenth. */
const STILL_CHANGING = 0.05;

/** With two lines to the spot some bands are three times as wide as with four; with three, hardly any. */
const LEAST_LINES_PER_SPOT = 2.5;

/** What a person must know of a calibration. */
export function calibrationWarnings(
  figures: Figures,
  material: string,
  reader: Reader,
): Calibration["warnings"] {
  const missing = unlearnt(figures);
  const spoilt = figures.patches.filter(({ spoilt: isSpoilt }) => isSpoilt).length;
  const told: [CalibrationWarningCode, string | false][] = [
    [
      "bare-assumed",
      figures.bare.from === "material" &&
        `The bare surface is taken to have the luminance factor of ${material}, ${figures.bare.luminance.toFixed(2)}: a picture shows ratios only. If yours is lighter or darker, all luminance factors are off by the same share. Measure it and give ${reader.option("bareLuminance")}, or photograph the card with white paper beside it and give ${reader.option("paperLuminance")} 0.85.`,
    ],
    [
      "speed-assumed",
      figures.isSpeedAssumed &&
        `Nobody said how fast the card was burned, so ${figures.speedMmPerS} mm/s is assumed. Firing lag and firing loss are as wrong as that is: give ${reader.option("speedMmPerS")}.`,
    ],
    [
      "camera-assumed",
      figures.camera === "assumed" &&
        "The camera is taken to write sRGB. A camera that adds contrast of its own bends the middle of the curve, and haze on its lens makes dark marks look paler; one picture does not show it. Give two or three pictures of the card, a stop apart in exposure, as the camera wrote them: their files say the exposures, and together they tell the camera's curve. Or use a flatbed scanner with corrections switched off." +
          (figures.pictures.length > figures.cards.length
            ? " The pictures given do not say their exposures, or hardly differ in them."
            : ""),
    ],
    ["pictures-disagree", disagreementWords(figures)],
    [
      "not-learnt",
      missing.length > 0 &&
        `This card does not tell ${listWords(missing, "and")}: what was believed before is kept. On a material that changes tone steadily, dose is all that shows.`,
    ],
    [
      "card-coarse",
      figures.linesPerSpot < LEAST_LINES_PER_SPOT &&
        `This card has only ${figures.linesPerSpot.toFixed(1)} lines to your spot. So it shows few doses between bare and solid, and the firing loss, whether lines add up and the spot are less sure: look at their ranges. For surer ones engrave another card with four lines to the spot.`,
    ],
    ["lag-unsure", isLagUnsure(figures) && lagWords(figures, reader)],
    [
      "not-saturated",
      figures.reversalDose === undefined &&
        isStillChanging(figures) &&
        `The tone still changes at the largest dose: the material can be marked more. If no damage shows, make another card with ${reader.setting("doseFactor", 1.5)}, burn it with so much more dose, and read both together.`,
    ],
    [
      "tone-turns",
      figures.reversalDose !== undefined &&
        `From a dose of about ${figures.reversalDose.toFixed(2)} on the tone turns back: marks that char can turn pale. The curve ends there. Use less power, so that a solid patch stays below that.`,
    ],
    ...offCards(figures).map((words): [CalibrationWarningCode, string] => [
      "card-off",
      `${words} Read cards of one material and one setting together; for another power or other passes make the card with ${reader.option("doseFactor")}.`,
    ]),
    ["dose-drifts", driftWords(figures.spread) ?? false],
    [
      "patches-spoilt",
      spoilt > 0 &&
        `${spoilt} of ${figures.patches.length} patches do not fit their repeats and were left out.`,
    ],
  ];
  return told.flatMap(([code, message]) => (message === false ? [] : [{ code, message }]));
}

/** Pictures of one card may differ by so much in ln of solid over bare. */
const MOST_DISAGREEMENT = 0.05;

/** How far pictures of one card disagree on solid over bare, in words; false if hardly. */
function disagreementWords({ cards, pictures }: Figures): string | false {
  const worst = cards
    .map(({ files }) => pictures.filter(({ file }) => files.includes(file)))
    .map((ofCard) => ofCard.map(({ solidOverBare }) => Math.log(solidOverBare)))
    .reduce((most, logs) => Math.max(most, Math.max(...logs) - Math.min(...logs)), 0);
  if (worst < MOST_DISAGREEMENT) return false;
  return `Pictures of one card disagree by ${(100 * Math.expm1(worst)).toFixed(0)} % on how much solid and bare patches differ, so the camera changes tones in a way that is not fully known, and the curve may be off. Take them again: two or three pictures a stop apart, in the camera's plainest mode, none so dark that dark patches turn black.`;
}

/** A card differs from what was meant by more than machines do if ln of its dose is off by so many standard deviations of two cards. */
const MOST_DEVIATIONS = 3;

const offCards = ({ cards }: Figures): string[] => {
  // What was learnt of these cards would hold the odd one too.
  const most = MOST_DEVIATIONS * Math.SQRT2 * DEFAULT_SPREAD.common;
  return cards.flatMap(({ files, dose, isDoseKnown }) =>
    dose && isDoseKnown && Math.abs(Math.log(dose.value)) > most
      ? `The card of ${listWords(files, "and")} came out with ${dose.value.toFixed(2)} times the dose that was meant beside the first card. Machines hardly vary so much: its power, speed, focus or material was another.`
      : [],
  );
};

/** A slow change that is worth a word, as a share of the dose. */
const WORTH_A_WORD = 0.08;

/** What to know of a drift; undefined if it is small. */
const driftWords = ({ drift }: Calibration["spread"]): string | undefined =>
  drift < WORTH_A_WORD
    ? undefined
    : `From one side of the card to the other the dose drifts by ${(100 * drift).toFixed(0)} %, beside what varies by chance. Check that the bed is level and in focus everywhere.`;

/** A spot changes by less than a lag of this share of it blurs. */
const SMALL_LAG = 0.1;

/** Whether the lags that the card allows differ by a length that matters beside the spot. */
const isLagUnsure = ({ firingLagUs, speedMmPerS, spotAlongMm }: Figures): boolean =>
  1e-6 * speedMmPerS * (firingLagUs.high - firingLagUs.low) > SMALL_LAG * spotAlongMm.value;

const lagWords = ({ firingLagUs: { low, high }, speedMmPerS }: Figures, reader: Reader): string =>
  `A firing lag, a wider spot along the lines and a line shift look nearly alike on one card: it allows any lag from ${low.toFixed(0)} to ${high.toFixed(0)} µs. At ${speedMmPerS} mm/s a job comes out the same whichever it is. For other speeds, engrave another card at a third of the speed or less, made with ${reader.option("speedMmPerS")} so that its code says so, and read both together.`;

/** The curve of one card ends there or sooner: solid fills ripple. */
const BEYOND_SOLID = 1.1;

/** Whether the tone still changes at the end of the curve. */
export function isStillChanging({ response }: Pick<Calibration, "response">): boolean {
  const at = (dose: number): number =>
    response.reduce((a, b) => (Math.abs(b.dose - dose) < Math.abs(a.dose - dose) ? b : a)).luminance;
  const last = response[response.length - 1].dose;
  // Cards of more dose tell well beyond 1.
  const end = last > BEYOND_SOLID ? last : solidDoseOf(response);
  const range = Math.abs(at(end) - at(0));
  return Math.abs(at(end) - at(0.9 * end)) > STILL_CHANGING * range;
}

/** Dose of the solid patches: 1, or less if the doses of their lines do not add up. The curve of one card ends there or just beyond. */
export const solidDoseOf = (response: Calibration["response"]): number =>
  Math.min(1, response[response.length - 1].dose);

/** `0.117 mm (0.109 to 0.127)`, or that it is not learnt. */
export function figureWords(
  { value, low, high, learnt }: LearntFigure,
  unit: string,
  digits: number,
): string {
  const number = (of: number): string =>
    of
      .toFixed(digits)
      .replace(/^-(?=.*[1-9])/, "−")
      .replace(/^-/, "");
  return learnt
    ? `${number(value)}${unit} (${number(low)} to ${number(high)})`
    : `not told by this card; ${number(value)}${unit} as before`;
}
