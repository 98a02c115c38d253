import type { Calibration, CalibrationFigures, LearntFigure } from "../../../src/index.js";

export const learnt = (value: number, half: number): LearntFigure => ({
  ...{ value, low: value - half, high: value + half, learnt: true },
});
export const unlearnt = (value: number): LearntFigure => ({
  value,
  low: value - 9,
  high: value + 9,
  learnt: false,
});

/** Luminance factors by dose, as a curve without a band. */
export const curve = (points: readonly (readonly [dose: number, luminance: number])[]) =>
  points.map(([dose, luminance]) => ({ dose, luminance, low: luminance, high: luminance }));

/** Made up: a card on which nothing is amiss. Its tone still changes up to dose 0.95, and not after that. */
export function madeFigures(changes: Partial<CalibrationFigures> = {}): CalibrationFigures {
  const response = curve([
    [0, 0.6],
    [0.5, 0.3],
    [0.9, 0.11],
    [0.95, 0.1],
    [1, 0.1],
  ]);
  return {
    tool: { name: "spotpitch", version: "1" },
    card: "SPOTPITCH1 W80 H60 D1016 L2 S1 V300",
    pictures: [{ file: "card.jpg", pxPerMm: 20, unevenness: 0.01, solidOverBare: 0.17 }],
    ...{ speedMmPerS: 300, isSpeedAssumed: false, bare: { luminance: 0.6, from: "given" } },
    response,
    ...{ spotAlongMm: learnt(0.1, 0.004), spotAcrossMm: learnt(0.12, 0.01) },
    ...{ firingLagUs: learnt(0, 10), firingLossUs: learnt(0, 5), lineShiftMm: learnt(0, 0.003) },
    ...{ lineExponent: learnt(1, 0.1), closingLinesPerInch: learnt(212, 20) },
    ...{ scatter: { dose: 0.03, reading: 0.01 }, linesPerSpot: 4, camera: "assumed" },
    cards: [
      {
        code: "SPOTPITCH1 W80 H60 D1016 L2 S1 V300",
        ...{ files: ["card.jpg"], doseFactor: 1, isDoseKnown: true },
      },
    ],
    spread: {
      ...{ common: unlearnt(0.08), spot: unlearnt(0.05), local: learnt(0.04, 0.01) },
      ...{ localLengthMm: learnt(3, 1), line: learnt(0.03, 0.01), drift: 0 },
    },
    patches: Array.from({ length: 400 }, (_, k) => ({
      ...{ id: `a${k}`, pattern: "bare", measured: 0.6, spoilt: false },
    })),
    before: {
      material: "maple",
      response: response.map(({ dose, luminance }) => ({ dose, luminance })),
      figures: {
        spotAlongMm: { value: 0.1 },
        spotAcrossMm: { value: 0.1, from: "the machine file old.json" },
        firingLagUs: { value: 0 },
        firingLossUs: { value: 0 },
        lineShiftMm: { value: 0 },
        lineExponent: { value: 1 },
      },
    },
    ...changes,
  };
}

export const madeCalibration = (changes: Partial<Calibration> = {}): Calibration => ({
  ...madeFigures(),
  ...{ warnings: [], settings: [], next: [], ...changes },
});
