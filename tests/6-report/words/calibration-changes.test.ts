import { describe, expect, it } from "vitest";
import { calibrationPage } from "../../../src/6-report/pages/calibration-page.js";
import { changeWords, responseChangeWords } from "../../../src/6-report/words/calibration-changes.js";
import { settingsAdvice, surerAdvice } from "../../../src/6-report/words/machine-advice.js";
import { luminanceFromLightness } from "../../../src/core/physics/lightness.js";
import { libraryReader } from "../../../src/core/reader.js";
import type { CalibrationFigures } from "../../../src/index.js";
import { curve, learnt, madeCalibration, madeFigures, unlearnt } from "./made-calibration.js";

const settings = (changes: Partial<CalibrationFigures> = {}) =>
  settingsAdvice(madeFigures(changes), libraryReader);
const surer = (changes: Partial<CalibrationFigures> = {}) => surerAdvice(madeFigures(changes), libraryReader);

describe("what a card changed", () => {
  const row = (name: string, changes: Partial<CalibrationFigures> = {}) =>
    changeWords(madeFigures(changes)).find((each) => each.name === name);

  it("is the difference from before, with where that was given", () => {
    expect(row("spot across")).toEqual({
      ...{ name: "spot across", before: "0.100 mm, the machine file old.json", now: "0.120 mm" },
      ...{ change: "+0.020 mm", sure: "fairly sure, 0.110 to 0.130 mm" },
    });
    expect(row("spot along")).toMatchObject({ before: "0.100 mm, assumed", change: "within the band" });
    expect(row("line shift", { lineShiftMm: learnt(-0.05, 0.003) })).toMatchObject({
      ...{ now: "−0.050 mm", change: "−0.050 mm", sure: "sure, −0.053 to −0.047 mm" },
    });
  });

  it("is nothing where the card tells nothing", () => {
    expect(row("firing lag", { firingLagUs: unlearnt(0) })).toMatchObject({
      ...{ now: "as before", change: "kept", sure: "not told by this card" },
    });
  });

  it("counts a time by what the beam travels meanwhile", () => {
    // 60 µs at 300 mm/s are 0.018 mm, 18 % of a spot of 0.1 mm; at 50 mm/s they are 3 %.
    expect(row("firing loss", { firingLossUs: learnt(90, 60) })?.sure).toBe("rough, 30 to 150 µs");
    expect(row("firing loss", { firingLossUs: learnt(90, 60), speedMmPerS: 50 })?.sure).toBe(
      "sure, 30 to 150 µs",
    );
  });

  it("says where the response differs most", () => {
    const figures = madeFigures();
    const off = [0, 0, -5, 0, 0];
    const before = figures.response.map(({ dose }, k) => ({
      ...{ dose, luminance: luminanceFromLightness([80, 60, 40, 38, 38][k]) },
    }));
    const response = curve(
      before.map(({ dose }, k) => [dose, luminanceFromLightness([80, 60, 40, 38, 38][k] + off[k])]),
    );
    // √(25 / 5) on average.
    expect(responseChangeWords({ response, before: { ...figures.before, response: before } })).toBe(
      "The response differs from that of maple by 2.2 L* on average, and most at dose 0.90: there it is 5.0 L* darker.",
    );
  });
});

describe("what to set differently", () => {
  it("is nothing on a machine that is set well", () => {
    expect(settings()).toEqual([]);
  });

  it.each<[string, Partial<CalibrationFigures>, RegExp]>([
    ["a tone that turns back", { reversalDose: 0.8 }, /^Less power: .* 0\.80 .* set 0\.76 × the power/],
    [
      "a tone that turns back, where the curve ends",
      {
        reversalDose: 0.75,
        response: curve([
          [0, 0.6],
          [0.5, 0.3],
          [0.78, 0.12],
        ]),
      },
      /^Less power: .* 0\.75 .* set 0\.71 × the power/,
    ],
    [
      "solid patches that still change",
      {
        response: curve([
          [0, 0.6],
          [0.9, 0.2],
          [1, 0.15],
        ]),
      },
      /^More power.*1\.3 ×/,
    ],
    [
      "a tone that is reached early",
      {
        response: curve([
          [0, 0.6],
          [0.3, 0.2],
          [0.5, 0.1],
          [0.9, 0.1],
          [1, 0.1],
        ]),
      },
      /^Less power will do: from dose 0\.50 .* 0\.53 × the power/,
    ],
    // 0.05 mm at 300 mm/s, half of it each way: 83 µs.
    [
      "lines that are shifted",
      { lineShiftMm: learnt(0.05, 0.01) },
      /too far to the right.* to the left .*83 µs each way/,
    ],
    [
      "lines shifted the other way",
      { lineShiftMm: learnt(-0.05, 0.01) },
      /too far to the left.* to the right /,
    ],
    // 100 µs at 300 mm/s are 0.03 mm; 0.015 mm are 15 % of the spot.
    ["bursts that are short", { firingLossUs: learnt(100, 9) }, /100 µs too short .* From 150 mm\/s down/],
    ["bursts that are long", { firingLossUs: learnt(-100, 9) }, /100 µs too long/],
    ["a source that is slow", { firingLagUs: learnt(80, 9) }, /a firing lag of 80 µs/],
    ["a spot that has grown", { spotAcrossMm: learnt(0.2, 0.02) }, /^Focus: the spot is 0\.1 mm × 0\.2 mm/],
  ])("%s", (_, changes, words) => {
    const told = settings(changes);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(words);
  });

  it("is not said of what is small, unsure or not learnt", () => {
    for (const changes of [
      { lineShiftMm: learnt(0.008, 0.001) },
      { lineShiftMm: learnt(0.05, 0.06) },
      { lineShiftMm: unlearnt(0.05) },
      { firingLossUs: learnt(30, 9) },
      { spotAcrossMm: learnt(0.13, 0.02) },
    ])
      expect(settings(changes)).toEqual([]);
  });
});

describe("what to engrave to be surer", () => {
  it("is another card of the same kind, where all is well", () => {
    expect(surer()).toEqual([
      expect.stringMatching(
        /^How your machine varies .* seed: 2, seed: 3 and seed: 4\. Give the pictures of all 4/,
      ),
    ]);
  });

  it.each<[string, Partial<CalibrationFigures>, RegExp]>([
    ["a wide band of the spot", { spotAcrossMm: learnt(0.12, 0.02) }, /^The spot: .* coating/],
    [
      "a card of one direction",
      { lineShiftMm: unlearnt(0), card: "SPOTPITCH1 W80 H60 D254 L2 S1 O" },
      /^The line shift/,
    ],
    ["times that are not learnt", { firingLossUs: unlearnt(0) }, /^Firing lag and loss: .* highest speed/],
    ["a small card", { patches: [] }, /^Everything: .* 80 × 60 mm/],
  ])("%s", (_, changes, words) => {
    const told = surer(changes);
    expect(told).toHaveLength(2);
    expect(told[0]).toMatch(words);
  });
});

it("the page shows every figure before and now, the old curve, and what to set and to engrave", async () => {
  const calibration = madeCalibration({ settings: ["Set this."], next: ["Engrave that."] });
  const picture = { file: new Uint8Array(), widthMm: 80, heightMm: 60, areas: [] };
  const page = await calibrationPage("mine", calibration, picture, ["Use it."]);
  for (const words of [
    "Set this.",
    "Engrave that.",
    "Use it.",
    "before: maple",
    "0.100 mm, the machine file old.json",
  ])
    expect(page).toContain(words);
  expect(page.match(/<h2>What to set differently<\/h2>/g)).toHaveLength(1);
  // Without anything to set there is no such heading.
  const plain = await calibrationPage("mine", madeCalibration(), picture, ["Use it."]);
  expect(plain).not.toContain("What to set differently");
});
