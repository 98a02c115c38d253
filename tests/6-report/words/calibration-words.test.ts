import { expect, it } from "vitest";
import { calibrationWarnings } from "../../../src/6-report/words/calibration-words.js";
import { libraryReader } from "../../../src/core/reader.js";
import { madeFigures } from "./made-calibration.js";

const warningsAt = (linesPerSpot: number) =>
  calibrationWarnings(madeFigures({ linesPerSpot }), "maple", libraryReader);

it("warns of a card that has few lines to the spot, with the number", () => {
  expect(warningsAt(4).map(({ code }) => code)).not.toContain("card-coarse");
  const [warning] = warningsAt(1.94).filter(({ code }) => code === "card-coarse");
  expect(warning.message).toContain("only 1.9 lines to your spot");
});
