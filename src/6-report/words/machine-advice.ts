import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import type { Reader } from "../../core/reader.js";
import { speedWords } from "../../core/shown-units.js";
import { listWords, mmWords } from "../../core/words.js";
import type { CalibrationFigures, LearntFigure } from "../calibration.js";
import { isStillChanging, solidDoseOf } from "./calibration-words.js";
import { fixed } from "./matter.js";

/** What to set differently on the machine, the most important first. */
export const settingsAdvice = (figures: CalibrationFigures, reader: Reader): string[] => [
  ...powerAdvice(figures),
  ...shiftAdvice(figures),
  ...timingAdvice(figures, reader),
  ...focusAdvice(figures),
];

/** Tones this near to the last one look like it, in L*. */
const SAME_TONE = 1;
/** Solid parts get more than they need if this share of the power gives the last tone too. */
const EARLY = 0.8;
/** Stay so far below a dose at which the tone turns back. */
const BELOW_REVERSAL = 0.95;

/** Whether the solid patches reached the end of the tones, too early or not at all. */
function powerAdvice(figures: CalibrationFigures): string[] {
  const { reversalDose, response } = figures;
  if (reversalDose !== undefined) {
    const factor = BELOW_REVERSAL * Math.min(1, reversalDose);
    return [
      `Less power: from dose ${fixed(reversalDose, 2)} on marks turn back, so set ${fixed(factor, 2)} × the power of this card, and engrave another card with it.`,
    ];
  }
  if (isStillChanging(figures)) {
    return [
      "More power, if your material stands it: the solid patches still change, and dark tones are given away. Try 1.3 × the power on scrap, and if nothing chars, engrave another card with it.",
    ];
  }
  const enough = enoughDose(response);
  const factor = (1.05 * enough) / solidDoseOf(response);
  if (factor > EARLY) return [];
  return [
    `Less power will do: from dose ${fixed(enough, 2)} on the tone is at its end. With ${fixed(factor, 2)} × the power solid parts look the same, and light tones get finer steps. The material file holds for the power of this card: engrave another card if you change it.`,
  ];
}

/** The dose from which on no tone differs from the last one. */
function enoughDose(response: CalibrationFigures["response"]): number {
  const last = lightnessFromLuminance(response[response.length - 1].luminance);
  const differing = response.filter(
    ({ luminance }) => Math.abs(lightnessFromLuminance(luminance) - last) > SAME_TONE,
  );
  return response[Math.min(differing.length, response.length - 1)].dose;
}

/** A shift of a tenth of the spot starts to double fine lines. */
const LARGE_SHIFT = 0.1;

function shiftAdvice({ lineShiftMm, spotAlongMm, speedMmPerS }: CalibrationFigures): string[] {
  const { value } = lineShiftMm;
  if (!isSurelyLarge(lineShiftMm, LARGE_SHIFT * spotAlongMm.value)) return [];
  const delayUs = Math.round((1e6 * Math.abs(value)) / (2 * speedMmPerS));
  return [
    `Bidirectional offset: lines of the way back lie ${fixed(Math.abs(value), 3)} mm too far ${value > 0 ? "to the right" : "to the left"}, as the bitmap is seen. Move them by so much ${value > 0 ? "to the left" : "to the right"} in your machine's settings; where it asks for a time, that is a delay of ${delayUs} µs each way at the speed of the card. Then engrave another card: if the shift has doubled, the offset counts the other way round.`,
  ];
}

/** Parts of the spot that the beam goes on while the source starts, which can be seen. */
const LARGE_TIME = 0.15;

function timingAdvice(figures: CalibrationFigures, { units }: Reader): string[] {
  const { firingLagUs, firingLossUs, spotAlongMm, speedMmPerS } = figures;
  const limitUs = (LARGE_TIME * spotAlongMm.value) / (speedMmPerS * 1e-6);
  const large = [firingLagUs, firingLossUs].filter((each) => isSurelyLarge(each, limitUs));
  if (large.length === 0) return [];
  const mostUs = Math.max(...large.map(({ value }) => Math.abs(value)));
  const slower = Number(((speedMmPerS * limitUs) / mostUs).toPrecision(2));
  const names = [
    ...(large.includes(firingLagUs) ? [`a firing lag of ${fixed(firingLagUs.value, 0)} µs`] : []),
    ...(large.includes(firingLossUs)
      ? [
          `bursts that are ${fixed(Math.abs(firingLossUs.value), 0)} µs too ${firingLossUs.value > 0 ? "short" : "long"}`,
        ]
      : []),
  ];
  return [
    `Slower, or your machine's own correction: at ${speedWords(speedMmPerS, units)} ${listWords(names, "and")} cost single dots. From ${speedWords(slower, units)} down they do not matter. If your machine can correct the delay of switching on and off, set it there and engrave another card. Jobs prepared with the machine file allow for them in the meantime.`,
  ];
}

/** A spot so much larger than it was believed is probably out of focus. */
const LARGER = 1.25;

function focusAdvice({ spotAlongMm, spotAcrossMm, before }: CalibrationFigures): string[] {
  const { figures } = before;
  const grown = (
    [
      [spotAlongMm, figures.spotAlongMm],
      [spotAcrossMm, figures.spotAcrossMm],
    ] as const
  ).some(([now, then]) => now.learnt && then.from !== undefined && now.low > LARGER * then.value);
  if (!grown) return [];
  return [
    `Focus: the spot is ${mmWords(spotAlongMm.value)} × ${mmWords(spotAcrossMm.value)} now, and was given as ${mmWords(figures.spotAlongMm.value)} × ${mmWords(figures.spotAcrossMm.value)}. Check the distance and clean the lens. If you change anything, engrave another card.`,
  ];
}

/** Whether a figure was learnt, is beyond a limit, and surely not zero. */
const isSurelyLarge = ({ value, low, high, learnt }: LearntFigure, limit: number): boolean =>
  learnt && Math.abs(value) > limit && (low > 0 || high < 0);

/** Half of a band over the spot, above which another card is worth while. */
const WIDE = 0.1;
/** Patches of a card of the usual size. */
const USUAL_PATCHES = 300;

/** What to engrave next to be surer, the most telling first. */
export function surerAdvice(figures: CalibrationFigures, reader: Reader): string[] {
  const { spotAlongMm, spotAcrossMm, firingLossUs, lineShiftMm, patches, card } = figures;
  const isSpotWide = [spotAlongMm, spotAcrossMm].some(
    ({ value, low, high, learnt }) => !learnt || (high - low) / 2 > WIDE * value,
  );
  return [
    ...(isSpotWide
      ? [
          `The spot: a card on a material that changes tone suddenly, such as a coating that is stripped or anodised aluminium, tells it best. Its machine file then serves every material.`,
        ]
      : []),
    ...(!lineShiftMm.learnt && / O$/.test(card)
      ? ["The line shift: a card that is burned in both directions."]
      : []),
    ...(firingLossUs.learnt
      ? []
      : ["Firing lag and loss: a card at the highest speed of your jobs, where they matter most."]),
    ...(patches.length < USUAL_PATCHES
      ? ["Everything: a card of 80 × 60 mm has more patterns, and each more often."]
      : []),
    ...(isStillChanging(figures)
      ? [
          `Stronger tones: a second card on the same material, made with ${reader.setting("doseFactor", 1.4)} and burned at 1.4 × the power; give the pictures of both together.`,
        ]
      : []),
    ...moreCards(figures, reader),
  ];
}

/** So many cards tell how a machine varies from piece to piece. */
const CARDS_TO_COMPARE = 4;

function moreCards({ cards }: CalibrationFigures, reader: Reader): string[] {
  const missing = CARDS_TO_COMPARE - cards.length;
  if (missing <= 0) return [];
  const used = cards.map(({ code }) => Number(/ S(\d+)/.exec(code)?.[1]));
  const seeds = Array.from({ length: CARDS_TO_COMPARE + cards.length }, (_, k) => k + 1)
    .filter((seed) => !used.includes(seed))
    .slice(0, missing);
  const made = listWords(
    seeds.map((seed) => reader.setting("seed", seed)),
    "and",
  );
  return [
    `How your machine varies from piece to piece: ${missing === 1 ? "one more card" : `${missing} more cards`}, made with ${made}. Give the pictures of all ${CARDS_TO_COMPARE} together.`,
  ];
}
