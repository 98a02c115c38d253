import { expect, it } from "vitest";
import { renderingFacts } from "../../../src/6-report/pages/facts/piece-facts.js";
import type { Report } from "../../../src/6-report/report.js";
import { libraryReader } from "../../../src/core/reader.js";
import { piece } from "../words/flawless-piece.js";

const settings = {
  motion: { speedMmPerS: 300, firingLagUs: 0, firingLossUs: 0, lineShiftMm: 0, oneWay: false },
  ...{ accelerationMmPerS2: 5000, stepTimeS: 0, material: {} },
};

const screenOf = (job: Partial<Report["job"]>) =>
  renderingFacts
    .tell({
      report: { ...piece, job: { ...piece.job, ...job }, warnings: [] },
      settings,
      reader: libraryReader,
    })
    .find(({ name }) => name === "Screen");

it("a clustered-dot screen is one line of the facts, and other methods have none", () => {
  expect(screenOf({ screen: { linesPerInch: 127.32, angleDeg: 14.96 } })?.value).toBe(
    "127.3 rows of dots per inch at 15.0°",
  );
  expect(screenOf({})).toBeUndefined();
});
