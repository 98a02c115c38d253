import type { Reader } from "../../core/reader.js";
import { accelerationWords, sizeWords, speedWords } from "../../core/shown-units.js";
import { durationWords, mmWords } from "../../core/words.js";
import { assumedPace, type Pace, paceAdvice, paceWithAdvice } from "../words/pace-words.js";
import { alongWords, densitiesWords, powerWords } from "../words/report-words.js";
import type { FactSource } from "./facts/fact-group.js";
import { escapeHtml } from "./html-page.js";
import { type Tile, tilesHtml } from "./html-parts.js";

/** The settings of the machine. */
function settingsOf({ report, settings, reader }: FactSource): Tile[] {
  const { job, runTime, units } = report;
  const { motion, accelerationMmPerS2, material } = settings;
  const { speedMmPerS } = motion;
  const { assumed, around } = job;
  const pace = { speedMmPerS, accelerationMmPerS2, assumed, isRound: around !== undefined };
  const apart =
    alongWords(job) === mmWords(job.pitchAcrossMm)
      ? `lines and pixels ${mmWords(job.pitchAcrossMm)} apart`
      : `lines ${mmWords(job.pitchAcrossMm)} apart, pixels along them ${alongWords(job)}`;
  const ways = motion.oneWay ? "burning in one direction" : "burning both ways";
  const blank = runTime.blankLines > 0 ? `, ${runTime.blankLines} blank ones skipped` : "";
  return [
    ["Size", sizeWords(job, units), "as the bitmap says; never scale it"],
    ["Lines per inch", densitiesWords(job), apart],
    ["Pixels", `${job.columns} × ${job.rows}`, "along × across; black burns"],
    speedTile(pace, ways, reader),
    [
      "Power",
      material.referencePitchMm === undefined ? "full tone" : `× ${report.coverage.powerFactor.toFixed(2)}`,
      powerWords(report, material.referencePitchMm),
    ],
    [
      "Run time",
      `${assumedPace(pace).length > 0 ? "about " : ""}${durationWords(runTime.seconds)}`,
      `${runTime.lines} lines${blank}; beam on ${durationWords(runTime.beamOnSeconds)}`,
    ],
  ];
}

/** A default does not stand in large type, where it would look like advice. */
function speedTile(pace: Pace, ways: string, reader: Reader): Tile {
  if (pace.assumed.includes("speedMmPerS")) {
    return ["Speed", "your own", `${ways}; the run time is at ${paceWithAdvice(pace, reader)}`];
  }
  const { units } = reader;
  const acceleration = `${accelerationWords(pace.accelerationMmPerS2, units)}${pace.isRound ? " of the turning surface" : ""}`;
  const advice = paceAdvice(pace, reader);
  const note = advice === undefined ? acceleration : `an assumed ${acceleration}: ${advice}`;
  return ["Speed", speedWords(pace.speedMmPerS, units), `${ways}, ${note}`];
}

/** A number and its unit stay on one line. */
const unbroken = (text: string): string =>
  text.replace(/(\d|×) (?=(?:s|min|h|mm|in|m|%|×)(?![a-z])|\d)/g, "$1\u00a0");

/** The settings as tiles. */
export const settingsHtml = (from: FactSource): string =>
  tilesHtml(
    "What to set on the machine",
    settingsOf(from).map(([name, value, note]) => [name, escapeHtml(unbroken(value)), unbroken(note)]),
  );
