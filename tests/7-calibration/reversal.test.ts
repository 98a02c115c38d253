import { expect, it } from "vitest";
import { joinedCards, type MeasuredCard } from "../../src/7-calibration/card.js";
import { beforeReversal } from "../../src/7-calibration/reversal.js";
import type { TrialBeam } from "../../src/7-calibration/trial-beam.js";

/** Solid fills at eleven power levels: even tones. */
const filled = (luminanceAt: (dose: number) => number): MeasuredCard => ({
  ...{ pitch: { alongMm: 0.025, acrossMm: 0.025 }, levels: 11, speedMmPerS: 300, oneWay: false },
  patterns: Array.from({ length: 11 }, (_, level) => ({
    ...{ id: `fill-${level}`, tile: { columns: 1, rows: 1, codes: Uint8Array.of(level) }, doseFactor: 1 },
    places: [{ xMm: 0, yMm: 0, luminance: luminanceAt(level / 10) }],
  })),
});
const darkening = (dose: number): number => 0.6 - 0.4 * dose;
/** Darkest at 0.8, pale again beyond. */
const charring = (dose: number): number => (dose <= 0.8 ? darkening(dose) : darkening(1.6 - dose));

const beam = (dose: number): TrialBeam => ({
  ...{ alongMm: 0.1, acrossMm: 0.1, lossMm: 0, lagMm: 0, lineShiftMm: 0, oneWay: false, lineExponent: 1 },
  others: [{ isDoseKnown: false, dose, spot: 1 }],
});

it.each([1, 1.6, 0.7])(
  "a reversal on a second card is told in the dose that was meant, though it came out × %f",
  (dose) => {
    const card = joinedCards([filled(darkening), filled(charring)]);
    const { reversals, beyond } = beforeReversal(card, beam(dose));
    expect(reversals).toEqual([{ place: 1, dose: expect.closeTo(0.8, 6) }]);
    expect(beyond).toEqual(["2:fill-9", "2:fill-10"]);
  },
);
