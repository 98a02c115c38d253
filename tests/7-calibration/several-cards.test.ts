import { beforeAll, describe, expect, it } from "vitest";
import { fitCards, type LearntCard } from "../../src/7-calibration/calibration.js";
import type { MeasuredCard } from "../../src/7-calibration/card.js";
import { createResponse, luminanceFactorAt, type ResponsePoints } from "../../src/core/material/response.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import { hasReference } from "../support/reference.js";
import { type Reading, roundGuess, type Truth, virtualCards } from "./virtual-card.js";

/** Made up: still changing at a dose of 1, so a second card at more power tells more. */
const deep: ResponsePoints = [
  [0, 0.62],
  [0.2, 0.55],
  [0.5, 0.38],
  [1, 0.2],
  [1.5, 0.12],
  [2.2, 0.09],
];
const machine: Truth = {
  ...{ response: deep, spotAlongMm: 0.09, spotAcrossMm: 0.12 },
  ...{ firingLossUs: 15, lineShiftMm: 0.02 },
};

/** A card burned with so much more dose than the response knows. */
const dosed = (truth: Truth, factor: number): Truth => ({
  ...truth,
  response: truth.response.map(([dose, luminance]) => [dose / factor, luminance] as const),
});
const focused = (truth: Truth, factor: number): Truth => ({
  ...truth,
  spotAlongMm: factor * truth.spotAlongMm,
  spotAcrossMm: factor * truth.spotAcrossMm,
});

/** The second card: its code says what was meant and the speed; its own dose and spot came out otherwise. */
const SECOND = { meant: 1.6, dose: 0.95, spot: 1.06, speedMmPerS: 450, pitchMm: 0.03 };

describe.skipIf(!hasReference())(
  "two cards of other density, speed and dose, burned by brute force and read without noise",
  () => {
    let learnt: LearntCard;
    let cards: readonly MeasuredCard[];
    beforeAll(() => {
      const reading: Reading = {
        ...{ size: { widthMm: 40, heightMm: 30 }, pitchMm: 0.025, repeats: 1 },
        ...{ doseDeviation: 0, readingDeviation: 0, seed: 5 },
      };
      const faster = { ...machine, speedMmPerS: SECOND.speedMmPerS };
      const [first, second] = virtualCards([
        { truth: machine, reading },
        {
          truth: focused(dosed(faster, SECOND.meant * SECOND.dose), SECOND.spot),
          reading: { ...reading, pitchMm: SECOND.pitchMm, seed: 6 },
        },
      ]);
      // Half of the patterns take half of the time.
      const some = (card: MeasuredCard) => card.patterns.filter((_, k) => k % 2 === 0);
      const patterns = some(second).map((pattern) => ({ ...pattern, doseFactor: SECOND.meant }));
      cards = [
        { ...first, patterns: some(first) },
        { ...second, speedMmPerS: SECOND.speedMmPerS, patterns },
      ];
      learnt = fitCards(cards, roundGuess);
    });

    it("give one response up to the largest dose", () => {
      // Dose 1 is the mean of both cards, and the response of the first is known.
      const response = createResponse(deep);
      const first = Math.sqrt(SECOND.dose);
      const top = learnt.response[learnt.response.length - 1].dose;
      expect(top).toBeGreaterThan(1.4);
      const squares = learnt.response.map(({ dose, luminance }) => {
        const truth = lightnessFromLuminance(luminanceFactorAt(response, first * dose));
        return (lightnessFromLuminance(luminance) - truth) ** 2;
      });
      expect(Math.sqrt(squares.reduce((sum, each) => sum + each, 0) / squares.length)).toBeLessThan(0.5);
    });

    it("tell how dose and spot of the second differ from the first", () => {
      const [{ dose, spot }] = learnt.others;
      expect(Math.abs(dose.value / SECOND.dose - 1)).toBeLessThan(0.005);
      expect(Math.abs(spot.value / SECOND.spot - 1)).toBeLessThan(0.01);
    });

    it("join through the doses that both hold, if nobody knows the dose of the second", () => {
      const [first, second] = cards;
      const patterns = second.patterns.map((pattern) => ({ ...pattern, doseFactor: 1 }));
      const guessed = fitCards([first, { ...second, patterns, isDoseKnown: false }], roundGuess);
      expect(Math.abs(guessed.others[0].dose.value / (SECOND.meant * SECOND.dose) - 1)).toBeLessThan(0.01);
      // Such a card does not move what dose 1 is.
      const [dark, same] = [guessed, learnt].map((each) => each.response[each.response.length - 1].dose);
      expect(Math.abs(dark / (same * Math.sqrt(SECOND.dose)) - 1)).toBeLessThan(0.01);
    });

    it("give one spot and one set of faults: times are lengths at the speed of each card", () => {
      expect(Math.abs(learnt.spotAlongMm.value / (0.09 * Math.sqrt(SECOND.spot)) - 1)).toBeLessThan(0.01);
      expect(Math.abs(learnt.spotAcrossMm.value / (0.12 * Math.sqrt(SECOND.spot)) - 1)).toBeLessThan(0.01);
      expect(Math.abs(learnt.firingLossUs.value - 15)).toBeLessThan(3);
      expect(Math.abs(learnt.lineShiftMm.value - 0.02)).toBeLessThan(0.005);
    });
  },
);
