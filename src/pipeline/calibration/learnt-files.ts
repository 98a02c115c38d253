import type {
  Calibration,
  CalibrationCard,
  CalibrationSpread,
  LearntFigure,
} from "../../6-report/calibration.js";
import { type Material, type MaterialData, resolveMaterial } from "../../core/material/material.js";
import { MAX_SPREAD_PART, type Spread } from "../../core/spread.js";
import type { CalibrateOptions } from "../../options/calibrate-options.js";
import type { MachineData } from "../../options/machine.js";

const digits = (value: number, count = 4): number => Number(value.toFixed(count));

type MaterialFigures = Pick<Calibration, "response" | "lineExponent" | "cards" | "reversalDose">;

/** Where the tone turned back on the card the surface chars: reports and plans warn above it. */
const charDoseOf = (charDose: number | undefined): Pick<MaterialData, "charDose"> =>
  charDose === undefined ? {} : { charDose: digits(charDose) };

/**
 * The material file: what the surface does at each dose, whatever the density.
 *
 * @param material from which the card started: its colours and hazards stay
 * @param pitchMm of the card's fills
 */
export function learntMaterial(
  name: string,
  { response, lineExponent, cards, reversalDose }: MaterialFigures,
  material: Material,
  pitchMm: number,
): MaterialData {
  const data: MaterialData = {
    name,
    response: response.map(({ dose, luminance }) => [digits(dose), Math.min(1, digits(luminance))] as const),
    bareColor: material.bareColor,
    markedColor: material.markedColor,
    ...charDoseOf(reversalDose ?? material.charDose),
    ...(lineExponent.learnt &&
      Math.abs(lineExponent.value - 1) > 0.02 && {
        lineExponent: Math.max(1, digits(lineExponent.value, 3)),
      }),
    source: `${sourceWords(cards)}; colours and hazards from ${material.name}`,
    hazards: [...material.hazards],
  };
  return withPitch(data, pitchMm);
}

/**
 * With the pitch of the card's fills a report can tell the power for any other density. Fills so coarse that they would be taken for
 * rippled ones are left unsaid: the response is already without their ripple.
 */
function withPitch(data: MaterialData, pitchMm: number): MaterialData {
  const pitched = { ...data, referencePitchMm: digits(pitchMm) };
  const ripples = resolveMaterial(pitched).doubts.some(({ doubt }) => doubt === "fills-may-ripple");
  return ripples ? data : pitched;
}

const sourceWords = (cards: readonly CalibrationCard[]): string =>
  `measured with ${cards.length === 1 ? "a test card" : `${cards.length} test cards`} (${cards.map(({ code }) => code).join("; ")})`;

/** Parts of the variation that were learnt, and those that were given. */
function knownSpread(
  spread: CalibrationSpread,
  given: CalibrateOptions["spread"] = {},
): Partial<Record<keyof Spread, number>> {
  const parts = ["common", "local", "localLengthMm", "line", "spot"] as const;
  const known = parts.filter((part) => spread[part].learnt || given[part] !== undefined);
  return Object.fromEntries(known.map((part) => [part, withinLimits(part, digits(spread[part].value))]));
}

/** What a machine file may hold. */
const withinLimits = (part: keyof Spread, value: number): number =>
  part === "localLengthMm" ? value : Math.min(MAX_SPREAD_PART, value);

type MachineFigures = Pick<
  Calibration,
  | "spotAlongMm"
  | "spotAcrossMm"
  | "firingLagUs"
  | "firingLossUs"
  | "lineShiftMm"
  | "spread"
  | "speedMmPerS"
  | "isSpeedAssumed"
  | "cards"
>;

/** The machine file: what the card told, and what was given. */
export function learntMachine(name: string, figures: MachineFigures, options: CalibrateOptions): MachineData {
  const { spotAlongMm, spotAcrossMm, firingLagUs, firingLossUs, lineShiftMm } = figures;
  const { speedMmPerS, isSpeedAssumed } = figures;
  const isSpotKnown = spotAlongMm.learnt || spotAcrossMm.learnt || options.spotMm !== undefined;
  const spread = knownSpread(figures.spread, options.spread);
  const known = (figure: LearntFigure, given: unknown): boolean => figure.learnt || given !== undefined;
  return {
    name,
    ...(isSpotKnown && {
      spotMm: { alongMm: digits(spotAlongMm.value), acrossMm: digits(spotAcrossMm.value) },
    }),
    ...(known(firingLagUs, options.firingLagUs) && { firingLagUs: digits(firingLagUs.value, 1) }),
    ...(known(firingLossUs, options.firingLossUs) && { firingLossUs: digits(firingLossUs.value, 1) }),
    ...(known(lineShiftMm, options.lineShiftMm) && { lineShiftMm: digits(lineShiftMm.value) }),
    ...(Object.keys(spread).length > 0 && { spread }),
    ...(!isSpeedAssumed && { speedMmPerS }),
    source: sourceWords(figures.cards),
  };
}
