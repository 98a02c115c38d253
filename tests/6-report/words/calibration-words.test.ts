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
