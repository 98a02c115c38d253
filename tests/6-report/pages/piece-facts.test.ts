import { expect, it } from "vitest";
import { aroundFacts, renderingFacts } from "../../../src/6-report/pages/facts/piece-facts.js";
import { settingsHtml } from "../../../src/6-report/pages/report-settings.js";
import type { Report } from "../../../src/6-report/report.js";
import { commandReader, commandReaderFor } from "../../../src/cli/command-reader.js";
import { libraryReader } from "../../../src/core/reader.js";
import { METRIC } from "../../../src/core/shown-units.js";
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

// An inch is 25.4 mm.
it("a round piece is in inches to somebody who gave inches, in its facts and in what to set", () => {
  const units = { ...METRIC, length: "in" } as const;
  const wall = { lengthMm: 101.6, rimDiameterMm: 76.2, footDiameterMm: 50.8 };
  const placed = {
    ...{ pictureWidthMm: 50.8, pictureHeightMm: 25.4, angleDeg: 0 },
    ...{ startAngleDeg: 320, startAlongMm: 12.7, turnDeg: 80, wall },
    fromRim: { pictureMm: 30.48, bitmapMm: 25.4 },
  };
  const around = { topDiameterMm: 76.2, bottomDiameterMm: 63.5, circumferenceMm: 219.4, placed };
  const report = { ...piece, units, job: { ...piece.job, around }, warnings: [] };
  const source = { report, settings, reader: commandReaderFor({ units }) };
  const facts = aroundFacts.tell(source).map(({ name, value, note }) => [name, `${value}; ${note}`]);
  expect(Object.fromEntries(facts)).toMatchObject({
    Wall: "4 in; rim 3 in, foot 2 in",
    "Bitmap starts": "320°, 1 in; 0.5 in along its middle row; 80.00° wide",
    Picture: "2 × 1 in; The middle of the picture lies on your mark, its top 1.2 in below the rim.",
  });
  const tiles = settingsHtml(source).replaceAll("\u00a0", " ");
  expect(tiles).toContain("<strong>320°, 1 in</strong>");
  expect(tiles).toContain("rotary attachment at 2.75 in");
});

it("what to set counts blank lines in good English, and breaks no flag", () => {
  const tiles = (blankLines: number) => {
    const runTime = { ...piece.runTime, blankLines };
    const job = { ...piece.job, assumed: ["speedMmPerS"] };
    return settingsHtml({
      report: { ...piece, job, runTime, warnings: [] },
      settings,
      reader: commandReader,
    });
  };
  expect(tiles(0)).not.toContain("skipped");
  expect(tiles(1).replaceAll("\u00a0", " ")).toContain("1200 lines, 1 blank one skipped;");
  expect(tiles(2).replaceAll("\u00a0", " ")).toContain("1200 lines, 2 blank ones skipped;");
  expect(tiles(0)).toContain('(give <span class="whole-word">--speed</span> for');
});
