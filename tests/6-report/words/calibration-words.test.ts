import { expect, it } from "vitest";
import { calibrationWarnings } from "../../../src/6-report/words/calibration-words.js";
import { libraryReader } from "../../../src/core/reader.js";
import { learnt, madeFigures } from "./made-calibration.js";

const warningsAt = (linesPerSpot: number, firingLagUs = learnt(0, 0)) =>
  calibrationWarnings(madeFigures({ linesPerSpot, firingLagUs }), "maple", libraryReader);

it("warns of a card that has few lines to the spot, with the number", () => {
  expect(warningsAt(4).map(({ code }) => code)).not.toContain("card-coarse");
  const [warning] = warningsAt(1.94).filter(({ code }) => code === "card-coarse");
  expect(warning.message).toContain("only 1.9 lines to your spot");
});

it("says how to tell a lag from a wider spot, if the lags that a card allows matter", () => {
  // At 300 mm/s 30 µs are 0.009 mm: less than a tenth of the spot of 0.1 mm. 40 µs are more.
  expect(warningsAt(4, { ...learnt(70, 0), low: 60, high: 90 }).map(({ code }) => code)).not.toContain(
    "lag-unsure",
  );
  const [warning] = warningsAt(4, { ...learnt(0, 0), high: 40 }).filter(({ code }) => code === "lag-unsure");
  expect(warning.message).toContain("any lag from 0 to 40 µs. At 300 mm/s");
  expect(warning.message).toContain("speedMmPerS");
});

it("says if pictures of one card disagree on solid over bare, and by how much", () => {
  const pictures = (...ratios: number[]) =>
    ratios.map((solidOverBare, k) => ({
      ...{ file: `card-${k}.jpg`, pxPerMm: 20, unevenness: 0.01, solidOverBare },
    }));
  const told = (...ratios: number[]) => {
    const cards = [
      {
        ...{ code: "ONE", files: ratios.map((_, k) => `card-${k}.jpg`), doseFactor: 1, isDoseKnown: true },
      },
    ];
    const figures = madeFigures({ pictures: pictures(...ratios), cards });
    return calibrationWarnings(figures, "maple", libraryReader).filter(
      ({ code }) => code === "pictures-disagree",
    );
  };
  expect(told(0.17)).toEqual([]);
  expect(told(0.17, 0.175)).toEqual([]);
  expect(told(0.17, 0.187, 0.18)[0].message).toContain("disagree by 10 %");
});
